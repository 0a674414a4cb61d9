import { readFile } from 'node:fs/promises';
import { describe, expect, it } from 'vitest';
import { joinOutputs } from '../../daemon/outputs.js';
import { cutOffPlans, wantedPosition } from '../../daemon/cut-offs.js';
import { loadBench } from '../../daemon/design/load.js';
import { memoryLinkPair, type MemoryFarEnd } from '../../drivers/links/memory.js';
import { cabinSession } from './cabin-session.js';
import { relayAt } from './relay-at.js';
import { relayTable } from './relay-table.js';

const BENCH = relayTable('/dev/ttyUSB2', '/dev/ttyUSB3');

/** Power on through the relay, the cut-off armed, the rail at 5 V; then whatever the test does. */
async function armedTable() {
  const log: string[] = [];
  const ends = new Map<string, MemoryFarEnd>();
  const cabin = await cabinSession(BENCH, (clock) => ({
    linkFor: ({ name }) => {
      const { link, far } = memoryLinkPair(name);
      ends.set(name, far);
      if (name === 'mains-relay')
        relayAt(far, { clock, deadMs: 3000, onLine: (line) => void log.push(line) });
      return link;
    },
  }));
  const { session, pass } = cabin;
  session.onStep((event) => {
    if (event.kind === 'reading') log.push(`reading ${event.value}`);
  });
  session.start();
  await pass(100);
  const say = (text: string): void => ends.get('rails')?.send(Buffer.from(text));
  const order = (what: 'arm' | 'disarm' | 'test' | 'on' | 'off', inSight = true) =>
    session.act({ kind: 'cut-off', output: 'mains-relay', order: what, inSight });
  // What comes first may be half a line.
  say('\r\nLOGIC 5.02 V\r\n');
  expect(order('on')).toBeNull();
  await pass(100);
  expect(order('arm')).toBeNull();
  return { ...cabin, log, say, order, standing: () => session.state.cutOffs[0] };
}

describe('a cut-off in a session', () => {
  it('opens within the call that brings the reading’s last byte, before the next reading is looked at', async () => {
    const { log, say } = await armedTable();
    log.length = 0;
    say('LOGIC 5.01 V\r\nLOGIC 18.6 V\r\nLOGIC 18.7 V\r\n');
    expect(log.slice(0, 3)).toEqual(['reading 5.01', 'OPEN', 'STATE']);
    expect(log.indexOf('OPEN')).toBeLessThan(log.indexOf('reading 18.7'));
  });

  it('at ten readings a second: the first wrong one raises the alarm, and the bytes leave in the same turn', async () => {
    const { log, say, session, pass } = await armedTable();
    const raised: string[] = [];
    session.onStep((event, _state, effects) => {
      for (const effect of effects)
        if (effect.kind === 'alarm' && effect.change === 'raised' && event.kind === 'reading')
          raised.push(`${event.value}: ${effect.alarm.id}`);
    });
    for (let tenths = 0; tenths < 10; tenths += 1) {
      await pass(100);
      say('LOGIC 5.02 V\r\n');
    }
    await pass(100);
    log.length = 0;
    // Nothing is awaited from here on: no timer and no promise has had its turn.
    say('LOGIC 19.4 V\r\n');
    expect(raised[0]).toBe('19.4: passing-input:logic.volts');
    expect(log).toContain('OPEN');
    expect(session.state.cutOffs[0]).toMatchObject({ state: 'dropped', alarm: 'passing-input:logic.volts' });
  });

  it('tells that power is off, and lets nobody switch on before it is armed again', async () => {
    const { say, pass, session, order, standing } = await armedTable();
    say('LOGIC 18.6 V\r\n');
    await pass(200);
    expect(standing()).toMatchObject({ state: 'dropped', position: 'off' });
    expect(order('on')).toMatch(/mains-relay has dropped; find out why and arm it again/);
    await expect(session.switchOutput('mains-relay', 'on')).rejects.toThrow(/has dropped/);
    expect(order('arm')).toMatch(/passing-input:logic.volts stands/);
  });

  it('asks for somebody who has the supply in sight', async () => {
    const { order } = await armedTable();
    expect(order('disarm', false)).toBeNull();
    expect(order('arm', false)).toMatch(/in sight/);
  });

  it('has every action and its reason in the recording, refused ones too', async () => {
    const { say, pass, session, order } = await armedTable();
    say('LOGIC 18.6 V\r\n');
    await pass(200);
    order('on');
    await session.close();
    const lines = (await readFile(session.file ?? '', 'utf8')).split('\n').filter((line) => line !== '');
    const found = lines.map(
      (line) => JSON.parse(line) as { kind?: string; effect?: { kind: string; change: string } },
    );
    const changes = found.flatMap(({ effect }) => (effect?.kind === 'cut-off' ? [effect.change] : []));
    expect(changes).toEqual(['switch-on', 'is-on', 'armed', 'dropped', 'is-off', 'refused']);
    expect(found.filter(({ kind }) => kind === 'cut-off').length).toBe(3);
    expect(found.filter(({ kind }) => kind === 'output').length).toBe(2);
  });

  it('its test drops it and wants to see the rail fall', async () => {
    const { say, pass, order, standing, session } = await armedTable();
    const seen: string[] = [];
    session.onStep((_event, _state, effects) => {
      for (const effect of effects) if (effect.kind === 'cut-off') seen.push(effect.change);
    });
    expect(order('test')).toBeNull();
    await pass(100);
    say('LOGIC 1.2 V\r\n');
    expect(seen).toEqual(['test', 'is-off', 'fell']);
    expect(standing()).toMatchObject({ state: 'dropped', alarm: null });
  });
});

describe('what a bench file says of a cut-off', () => {
  const plansOf = (output: string) => {
    const text = `bench: t\ninstruments: {}\noutputs:\n  ${output}\n`;
    return cutOffPlans(joinOutputs({ file: 't.bench.yaml', text, value: loadBench(text, 't.bench.yaml') }));
  };

  it('counts only for an output that may be switched', () => {
    expect(plansOf('a: { driver: relay-lines, link: { serial: x }, cuts_off_on: [high] }')).toEqual([]);
    const armed = 'a: { driver: relay-lines, link: { serial: x }, armed: true, cuts_off_on: [high] }';
    expect(plansOf(armed)).toEqual([{ output: 'a', on: ['high'], at: null }]);
  });

  it('an alarm that isn’t known is refused with its place', () => {
    const text =
      'bench: t\ninstruments: {}\noutputs:\n  a: { driver: relay-lines, link: { serial: x }, cuts_off_on: [smoke] }\n';
    expect(() => loadBench(text, 't.bench.yaml')).toThrow(
      /:4 .*cuts_off_on.*smoke.*high, medium, over-limit/,
    );
  });

  it('only these changes switch anything', () => {
    const change = (what: Parameters<typeof wantedPosition>[0]['change']) =>
      wantedPosition({ kind: 'cut-off', atMs: 0, output: 'a', change: what, alarm: null, why: '' });
    expect([change('dropped'), change('switch-on'), change('armed'), change('refused')]).toEqual([
      'off',
      'on',
      null,
      null,
    ]);
  });
});
