import { describe, expect, it } from 'vitest';
import { PowerupKeys, type Asked, type Wish } from '../../daemon/powerup-keys.js';

function keys(asked: Partial<Asked> = {}) {
  const wishes: Wish[] = [];
  const under = new PowerupKeys(
    () => ({ yesNo: false, name: false, ...asked }),
    (wish) => void wishes.push(wish),
  );
  return { under, wishes };
}

describe('keys of the power-up', () => {
  it.each([
    ['n', 'next'],
    ['\r', 'next'],
    ['b', 'back'],
    ['c', 'other-check'],
    ['q', 'quit'],
    ['\u0003', 'quit'],
  ] as const)('take %j as %s', (key, kind) => {
    const { under, wishes } = keys();
    under.push(key);
    expect(wishes).toEqual([{ kind }]);
  });

  it('make a line of a number, and of a reason behind o', () => {
    const { under, wishes } = keys();
    under.push('0.1');
    expect(under.typing).toBe('> 0.1');
    under.push('2\ro');
    expect(under.typing).toMatch(/^Reason/);
    under.push('no tester here\r');
    expect(wishes).toEqual([
      { kind: 'text', text: '0.12' },
      { kind: 'override', text: 'no tester here' },
    ]);
  });

  it('correct with backspace and take nothing after Escape', () => {
    const { under, wishes } = keys();
    under.push('12\u007f3\r');
    under.push('a');
    under.push('\u001b');
    expect(under.typing).toBeNull();
    expect(wishes).toEqual([{ kind: 'text', text: '13' }]);
  });

  it('break off only after a second key', () => {
    const { under, wishes } = keys();
    under.push('a');
    expect(wishes).toEqual([]);
    under.push('\r');
    expect(wishes).toEqual([{ kind: 'abort', text: '' }]);
  });

  it('take y and n as answers while they are asked for, and Enter as next all the same', () => {
    const { under, wishes } = keys({ yesNo: true });
    under.push('yn\r');
    expect(wishes).toEqual([{ kind: 'text', text: 'y' }, { kind: 'text', text: 'n' }, { kind: 'next' }]);
  });

  it('ask for a name where a signature is due', () => {
    const { under, wishes } = keys({ name: true });
    under.push('\rAda\r');
    expect(wishes).toEqual([{ kind: 'sign', text: 'Ada' }]);
  });

  it('leave arrows and function keys alone', () => {
    const { under, wishes } = keys();
    under.push('\u001b[A\u001bOP\u001b[15~');
    expect(wishes).toEqual([]);
    expect(under.typing).toBeNull();
  });

  it.each([
    ['', { kind: 'next' }],
    ['n', { kind: 'next' }],
    ['o the reason', { kind: 'override', text: 'the reason' }],
    ['a', { kind: 'abort', text: '' }],
    ['t logic.volts 5.02', { kind: 'text', text: 'logic.volts 5.02' }],
    ['logic.volts 5.02', { kind: 'text', text: 'logic.volts 5.02' }],
    ['OL', { kind: 'text', text: 'OL' }],
    ['q', { kind: 'quit' }],
  ] as const)('read the line %j where there is no keyboard', (line, wish) => {
    const { under, wishes } = keys();
    under.line(line);
    expect(wishes).toEqual([wish]);
  });
});
