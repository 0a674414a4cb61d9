import { describe, expect, it } from 'vitest';
import { memoryLinkPair } from '../../../drivers/links/memory.js';
import { relayLines } from '../../../drivers/outputs/relay-lines.js';
import { manualClock } from '../../manual-clock.js';
import { Superseded } from '../../../drivers/outputs/output.js';
import { faultsOf } from '../events.js';
import { randomBytes } from '../random-bytes.js';
import { relayBench } from './relay-bench.js';

describe('relay-lines', () => {
  it('switches nothing by itself, and knows the position from the board', () => {
    const { output, contact } = relayBench();
    expect(output.position).toBe('off');
    expect(contact).toEqual([]);
  });

  it('lets power through for as long as it is kept alive', async () => {
    const { output, contact, alive, events } = relayBench();
    await output.on();
    alive(60_000);
    expect(contact).toEqual([true]);
    await output.off();
    expect(contact).toEqual([true, false]);
    expect(output.position).toBe('off');
    expect(events.map((event) => (event.kind === 'state' ? event.why : event.kind))).toEqual([
      'connected at relay board',
      'power is off',
      'power is on',
      'power is off',
    ]);
  });

  it('is opened by the board when the keep-alive stops, and stays so', async () => {
    const { output, contact, alive, clock, events } = relayBench();
    await output.on();
    alive(10_000);
    clock.advance(2900);
    expect(contact).toEqual([true]);
    clock.advance(200);
    expect(contact).toEqual([true, false]);
    expect(output.position).toBe('off');
    expect(events.at(-1)).toMatchObject({ why: 'power is off: the device took it away by itself' });
    alive(60_000);
    expect(contact).toEqual([true, false]);
  });

  it('does not switch on again after a loss', async () => {
    const { output, contact, far, alive } = relayBench();
    await output.on();
    far.unplug('pulled out');
    expect(output.position).toBe('unknown');
    alive(4000);
    expect(contact).toEqual([true, false]);
    far.plugIn('relay board');
    alive(10_000);
    expect(output.position).toBe('off');
    expect(contact).toEqual([true, false]);
  });

  // Boards that restart when their port opens hear nothing for a second or two (common practice).
  it('asks again where a board that restarts did not hear the first question', () => {
    const clock = manualClock();
    const { link, far } = memoryLinkPair('relay board');
    const heard: string[] = [];
    far.onBytes((bytes) => {
      if (clock.nowMs() < 2500) return;
      heard.push(Buffer.from(bytes).toString().trim());
      far.send(Buffer.from('OPENED\r\n'));
    });
    const output = relayLines.start({ link, options: {}, clock, emit: () => undefined });
    for (let passed = 0; passed < 20_000; passed += 250) {
      clock.advance(250);
      output.keepAlive();
    }
    expect(output.position).toBe('off');
    expect(new Set(heard)).toEqual(new Set(['STATE']));
  });

  it('says what is wrong when it can not be switched', async () => {
    const { output, far } = relayBench();
    far.unplug('pulled out');
    await expect(output.on()).rejects.toThrow(
      /relay board: it is not connected; switch the supply off at the mains/,
    );
    expect(await output.stop()).toBeNull();
    await expect(output.on()).rejects.toThrow(/was stopped/);
  });

  it('asks a board that says nothing once to close and three times to open', async () => {
    const { output, far, clock, events } = relayBench();
    const heard: string[] = [];
    far.onBytes((bytes) => void heard.push(Buffer.from(bytes).toString().trim()));
    const on = output.on();
    const refused = expect(on).rejects.toThrow(/it didn't say that power is on within 1000 ms/);
    clock.advance(5000);
    await refused;
    expect(heard).toEqual(['CLOSE', 'STATE']);
    heard.length = 0;
    const off = expect(output.off()).rejects.toThrow(/power is off within 1000 ms; switch the supply off/);
    clock.advance(5000);
    await off;
    expect(heard.filter((line) => line === 'OPEN')).toHaveLength(3);
    expect(faultsOf(events).join()).toMatch(/no-answer/);
  });

  it('takes power away when it is stopped', async () => {
    const { output, contact } = relayBench();
    await output.on();
    await output.stop();
    expect(contact).toEqual([true, false]);
  });

  it('tells when the board opens by itself, and when it is elsewhere after a loss than it was told to be', async () => {
    const { output, far, clock, moves } = relayBench();
    await output.on();
    expect(moves).toEqual([]);
    clock.advance(4000);
    expect(moves).toEqual(['off']);
    await output.off();
    far.unplug('pulled out');
    far.onBytes(() => far.send(Buffer.from('CLOSED\r\n')));
    far.plugIn('relay board');
    expect(moves).toEqual(['off', 'on']);
  });

  it('takes power away at its end when the board closed later than it was waited for', async () => {
    const { output, far, clock, contact, moves } = relayBench();
    const heard: string[] = [];
    far.onBytes((bytes) => void heard.push(Buffer.from(bytes).toString().trim()));
    const on = expect(output.on()).rejects.toThrow(/it didn't say that power is on/);
    clock.advance(1000);
    await on;
    far.send(Buffer.from('CLOSED\r\n'));
    expect(moves).toEqual(['on']);
    const stopped = output.stop();
    expect(heard.at(-2)).toBe('OPEN');
    far.send(Buffer.from('OPENED\r\n'));
    expect(await stopped).toBeNull();
    expect(contact).toEqual([]);
  });

  it('says at its end why power may still pass', async () => {
    const { output, far } = relayBench();
    await output.on();
    far.unplug('pulled out');
    expect(await output.stop()).toMatch(
      /relay board: it is not connected; switch the supply off at the mains/,
    );
  });

  it('takes an order that is given twice for one, and another one in its place for no failure', async () => {
    const { output, far, clock } = relayBench();
    far.onBytes(() => undefined);
    const on = expect(output.on()).rejects.toBeInstanceOf(Superseded);
    const twice = [output.off(), output.off()];
    await on;
    far.send(Buffer.from('OPENED\r\n'));
    await Promise.all(twice);
    clock.advance(5000);
    expect(output.position).toBe('off');
  });

  it('speaks as the bench file says', async () => {
    const { output, far } = relayBench({ on: 'K1 1', ask: 'K1?', says_on: '1', says_off: '0' });
    far.onBytes((bytes) => {
      if (Buffer.from(bytes).toString() === 'K1 1\n') far.send(Buffer.from('1\r\n'));
    });
    await output.on();
    expect(output.position).toBe('on');
  });

  it('takes junk for nothing (seed 5)', async () => {
    const { output, far, clock, events } = relayBench();
    far.onBytes(() => undefined);
    let settled = false;
    const on = output.on().then(
      () => (settled = true),
      () => undefined,
    );
    for (let chunk = 0; chunk < 2000; chunk += 1) {
      far.send(randomBytes(5 + chunk, chunk % 90));
      far.send(Buffer.from('CLOSE\nNOT CLOSED\nCLOSED?\n'));
    }
    clock.advance(1001);
    await on;
    expect(settled).toBe(false);
    expect(output.position).toBe('off');
    expect(faultsOf(events).length).toBeGreaterThan(0);
  });

  it.each([
    [{ on: '' }, ['on']],
    [{ alive_ms: 5 }, ['alive_ms']],
    [{ says_off: 'CLOSED' }, ['says_off']],
    [{ colour: 1 }, ['colour']],
    [{ off: 'A\nB' }, ['off']],
  ])('refuses %j', (options, keys) => {
    expect(relayLines.checkOptions(options).map(({ key }) => key)).toEqual(keys);
  });
});
