import { describe, expect, it } from 'vitest';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import type { OutputEvent } from '../../../drivers/outputs/output.js';
import { relayLines } from '../../../drivers/outputs/relay-lines.js';
import { scpiSupply } from '../../../drivers/outputs/scpi-supply.js';
import { manualClock } from '../../manual-clock.js';
import { faultsOf } from '../events.js';

/** A device that can fall silent, as one does whose power fails while its cable stays where it is. */
function table(driver: typeof relayLines, options: unknown, words: Readonly<Record<string, string>>) {
  const clock = manualClock();
  const { link, far } = memoryLinkPair('relay board');
  const events: OutputEvent[] = [];
  const device = { isAwake: true, says: words['off'] ?? '', answersAfterMs: 10 };
  far.onBytes((bytes) => {
    const message = Buffer.from(bytes).toString().trim();
    if (!device.isAwake) return;
    device.says = words[message] ?? device.says;
    const said = device.says;
    if (message === words['ask'])
      clock.after(device.answersAfterMs, () => far.send(Buffer.from(`${said}\r\n`)));
  });
  const output = driver.start({ link, options, clock, emit: (event) => void events.push(event) });
  const alive = (ms: number): void => {
    for (let passed = 0; passed < ms; passed += 50) {
      clock.advance(50);
      output.keepAlive();
    }
  };
  const states = (): string[] =>
    events.flatMap((event) => (event.kind === 'state' ? [`${event.state}: ${event.why}`] : []));
  return { alive, clock, device, events, output, states };
}

const RELAY = { ask: 'STATE', CLOSE: 'CLOSED', OPEN: 'OPENED', off: 'OPENED' };
const SUPPLY = { ask: 'OUTP?', 'OUTP ON': '1', 'OUTP OFF': '0', off: '0' };

describe.each([
  ['relay-lines', relayLines, RELAY],
  ['scpi-supply', scpiSupply, SUPPLY],
] as const)('%s', (_, driver, words) => {
  it('is told as lost when it answers nothing any more, and as back when it does', async () => {
    const { alive, clock, device, events, output, states } = table(driver, {}, words);
    clock.advance(10);
    const on = output.on();
    clock.advance(10);
    await on;
    alive(10_000);
    const told = states().length;
    device.isAwake = false;
    alive(5000);
    expect(output.position).toBe('unknown');
    expect(states().slice(told)).toEqual([
      'lost: it answers nothing any more, so its position is not known; look at its power and its cable',
    ]);
    expect(faultsOf(events)).toEqual([expect.stringMatching(/^no-answer: /)]);
    alive(60_000);
    device.isAwake = true;
    alive(2000);
    expect(output.position).toBe('on');
    expect(states().slice(told + 1)).toEqual(['open: power is on']);
  });

  it('is told so too while power is off, before anybody needs it', () => {
    const { alive, device, output, states } = table(driver, {}, words);
    alive(3000);
    expect(output.position).toBe('off');
    device.isAwake = false;
    alive(5000);
    expect(states().at(-1)).toMatch(/^lost: /);
  });

  it('is told so once where it has never answered', () => {
    const { alive, device, output, states } = table(driver, {}, {});
    device.isAwake = false;
    alive(60_000);
    expect(output.position).toBe('unknown');
    expect(states()).toEqual([
      'open: connected at relay board',
      expect.stringMatching(/^lost: it answers nothing/),
    ]);
  });

  it('is not, where it answers as late as it may', () => {
    const often = driver === relayLines ? { alive_ms: 100 } : { ask_ms: 100 };
    const { alive, device, output, states } = table(driver, { ...often, timeout_ms: 1000 }, words);
    device.answersAfterMs = 950;
    alive(60_000);
    expect(output.position).toBe('off');
    expect(states().join()).not.toMatch(/lost/);
  });
});

describe('relay-lines', () => {
  it('sees that a board which started anew has opened, though its link stayed', async () => {
    const { alive, clock, device, output, states } = table(relayLines, {}, RELAY);
    clock.advance(10);
    const on = output.on();
    clock.advance(10);
    await on;
    device.says = 'OPENED';
    alive(2000);
    expect(output.position).toBe('off');
    expect(states().at(-1)).toBe('open: power is off: the device took it away by itself');
  });
});
