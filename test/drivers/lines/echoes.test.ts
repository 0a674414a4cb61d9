import { describe, expect, it } from 'vitest';
import { Echoes } from '../../../drivers/lines/echoes.js';

describe('Echoes', () => {
  it('takes each echo once, in the order in which messages were sent', () => {
    const echoes = new Echoes();
    echoes.sent('CONF:VOLT:DC');
    echoes.sent('READ?');
    expect(echoes.take('CONF:VOLT:DC\r')).toBe(true);
    expect(echoes.take('CONF:VOLT:DC')).toBe(false);
    expect(echoes.take('READ?')).toBe(true);
    expect(echoes.take('READ?')).toBe(false);
  });

  it('awaits nothing that was sent before what has been echoed', () => {
    const echoes = new Echoes();
    echoes.sent('OFF');
    echoes.sent('STATE');
    expect(echoes.take('STATE')).toBe(true);
    expect(echoes.take('OFF')).toBe(false);
  });

  it('awaits 64 of them', () => {
    const echoes = new Echoes();
    for (let sent = 0; sent < 65; sent += 1) echoes.sent(`message ${sent}`);
    expect(echoes.take('message 0')).toBe(false);
    expect(echoes.take('message 1')).toBe(true);
  });
});
