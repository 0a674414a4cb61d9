import { describe, expect, it } from 'vitest';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import type { OutputDriver, OutputEvent } from '../../../drivers/outputs/output.js';
import { relayLines } from '../../../drivers/outputs/relay-lines.js';
import { scpiSupply } from '../../../drivers/outputs/scpi-supply.js';
import { manualClock } from '../../manual-clock.js';
import { faultsOf } from '../events.js';

/** A board whose answers are its commands, as many boards have them (common practice). */
const SAME_WORDS = { on: 'ON', off: 'OFF', ask: '?', alive: 'ALIVE', says_on: 'ON', says_off: 'OFF' };

/** Sends back what it hears, each in one piece or byte by byte as a two-wire line does, and answers questions. */
function echoing(driver: OutputDriver, options: unknown, answer: (message: string) => string | undefined) {
  const clock = manualClock();
  const { link, far } = memoryLinkPair('relay board');
  const events: OutputEvent[] = [];
  far.onBytes((bytes) => {
    for (const byte of bytes) far.send(Uint8Array.of(byte));
    const said = answer(Buffer.from(bytes).toString().trim());
    if (said !== undefined) far.send(Buffer.from(`${said}\r\n`));
  });
  const output = driver.start({ link, options, clock, emit: (event) => void events.push(event) });
  return { clock, events, output };
}

describe('an output behind a line that echoes', () => {
  it('is not taken for off by the echo of its own command', async () => {
    // The contact has welded: whatever it is told, it stays closed and says so.
    const { clock, output } = echoing(relayLines, SAME_WORDS, (message) =>
      message === '?' ? 'ON' : undefined,
    );
    await output.on();
    const refused = expect(output.off()).rejects.toThrow(/it didn't say that power is off/);
    expect(output.position).toBe('on');
    clock.advance(5000);
    await refused;
    expect(output.position).toBe('on');
  });

  it.each([
    ['relay-lines', relayLines, SAME_WORDS, 'ON', 'OFF', '?', ['OFF', 'ON']],
    ['scpi-supply', scpiSupply, {}, 'OUTP ON', 'OUTP OFF', 'OUTP?', ['0', '1']],
  ] as const)('is switched, and nothing of the echo is a fault: %s', async (...given) => {
    const [, driver, options, on, off, ask, says] = given;
    let isOn = false;
    const { clock, events, output } = echoing(driver, options, (message) => {
      if (message === on || message === off) isOn = message === on;
      return message === ask ? says[isOn ? 1 : 0] : undefined;
    });
    await output.on();
    expect(isOn).toBe(true);
    for (let passed = 0; passed < 60_000; passed += 250) {
      clock.advance(250);
      output.keepAlive();
    }
    await output.off();
    expect(isOn).toBe(false);
    expect(output.position).toBe('off');
    expect(faultsOf(events)).toEqual([]);
  });
});

describe('an output whose board answers each command with the same word', () => {
  it('is believed where nothing echoes', async () => {
    const clock = manualClock();
    const { link, far } = memoryLinkPair('relay board');
    let position = 'OFF';
    far.onBytes((bytes) => {
      const message = Buffer.from(bytes).toString().trim();
      if (message !== '?') position = message;
      far.send(Buffer.from(`${position}\r\n`));
    });
    const output = relayLines.start({ link, options: SAME_WORDS, clock, emit: () => undefined });
    await output.on();
    expect(output.position).toBe('on');
    await output.off();
    expect(output.position).toBe('off');
  });
});
