import { describe, expect, it } from 'vitest';
import type { OperatorAction } from '../../../daemon/session.js';
import type { Hands } from '../../../daemon/terminal-keys/prompt.js';
import { WatchKeys } from '../../../daemon/terminal-keys/watch-keys.js';
import type { WatchPlan } from '../../../daemon/watch/plan.js';
import {
  acknowledge,
  instrument,
  keepHeard,
  poweredCabin,
  reading,
  SUPPLIED,
  type Watched,
} from '../watch/cabin.js';
import { uniformNoise } from '../watch/random.js';

const VOLTS = 'over-limit:logic.volts';
const CASE = 'over-limit:logic.case';
const RELAY = 'mains-relay';

function atKeys(watched: Watched = poweredCabin(SUPPLIED).feed(instrument(100, RELAY, 'open'))) {
  const acts: OperatorAction[] = [];
  const said: string[] = [];
  let ended = 0;
  const hands: Hands = {
    get state() {
      return watched.state;
    },
    act: (action) => void acts.push(action),
    say: (line) => void said.push(line),
  };
  const keys = new WatchKeys(hands, () => (ended += 1));
  return { keys, acts, said, watched, ended: () => ended };
}

/** A case beyond its rating while everything else reads as it should. */
function hotCase(): Watched {
  const watched = poweredCabin();
  for (let atMs = 500; atMs <= 3000; atMs += 500) {
    keepHeard(watched, atMs, atMs, 'probes t1');
    watched.feed(reading(atMs, 'probes t1', atMs < 3000 ? 90 : 104, 'degC'));
  }
  return watched;
}

/** The same, and then volts that destroy. */
const troubled = () => hotCase().feed(reading(3100, 'meter volts', 6));

describe('keys beside the table', () => {
  it('say in one line which there are, while nothing is asked', () => {
    const { keys } = atKeys();
    expect(keys.lines).toEqual(['a acknowledge   s put aside   l load   c cut-off   ? help   Ctrl-C end']);
    keys.push('xyz1 \r\u001b\u001b[A');
    expect(keys.lines).toHaveLength(1);
  });

  it('tell at ? what each does, in lines of a terminal', () => {
    const { keys, said } = atKeys();
    keys.push('?');
    for (const key of ['a', 's', 'l', 'c']) expect(said.join('\n')).toMatch(new RegExp(`^ {2}${key}  `, 'm'));
    expect(Math.max(...said.map((line) => line.length))).toBeLessThan(80);
  });

  it('end the session at Ctrl-C, whatever is asked', () => {
    const { keys, ended } = atKeys();
    keys.push('\u0003');
    keys.push('ca\u0003');
    expect(ended()).toBe(2);
  });
});

describe('a: acknowledging', () => {
  it('asks about the worst alarm with its numbers, and takes Enter', () => {
    const { keys, acts } = atKeys(troubled());
    keys.push('a');
    expect(keys.lines[0]).toMatch(/^Acknowledge: Logic rail: 6\.00 V/);
    expect(keys.lines.at(-1)).toBe('Enter: I have seen it   n: another (1)   Esc: leave it');
    expect(acts).toEqual([]);
    keys.push('\r');
    expect(acts).toEqual([{ kind: 'acknowledge', alarm: VOLTS }]);
    expect(keys.lines).toHaveLength(1);
  });

  it('goes to another at n, and round', () => {
    const { keys, acts } = atKeys(troubled());
    keys.push('ann');
    expect(keys.lines[0]).toMatch(/Logic rail/);
    keys.push('n\r');
    expect(acts).toEqual([{ kind: 'acknowledge', alarm: CASE }]);
  });

  it('leaves everything at Esc, and at other keys asks on', () => {
    const { keys, acts } = atKeys(troubled());
    keys.push('az7');
    expect(keys.lines[0]).toMatch(/^Acknowledge/);
    keys.push('\u001b\r');
    expect(acts).toEqual([]);
  });

  it('never takes another alarm that came meanwhile, nor one that is over', () => {
    const watched = hotCase();
    const { keys, acts } = atKeys(watched);
    keys.push('a');
    watched.feed(reading(3100, 'meter volts', 6));
    expect(keys.lines[0]).toMatch(/^Acknowledge: Logic regulator case: 104/);
    watched.feed(acknowledge(3200, CASE));
    keys.push('\r');
    expect(acts).toEqual([]);
    expect(keys.lines[0]).toBe(`${CASE} is over.`);
  });

  it('resets what is latched, over and acknowledged', () => {
    const watched = poweredCabin().feed(reading(400, 'meter volts', 7.6), acknowledge(450, VOLTS));
    keepHeard(watched, 500, 5000);
    const { keys, acts } = atKeys(watched);
    keys.push('a');
    expect(keys.lines[0]).toMatch(/^Reset: /);
    keys.push('\r');
    expect(acts).toEqual([{ kind: 'acknowledge', alarm: VOLTS }]);
  });

  it('says so where none waits', () => {
    const { keys, said } = atKeys();
    keys.push('a');
    expect(said).toEqual(['No alarm waits to be acknowledged.']);
    expect(keys.lines).toHaveLength(1);
  });
});

describe('s: putting aside', () => {
  it('is for ten minutes at first, longer and shorter with + and -, as long as the alarm allows', () => {
    const watched = poweredCabin().hold(500, 60_000, 'probes t1', 80, 'degC');
    const { keys, acts } = atKeys(watched);
    keys.push('s');
    expect(keys.lines[0]).toMatch(/^Put aside for 10 min: /);
    keys.push('++');
    expect(keys.lines[0]).toMatch(/^Put aside for 60 min: /);
    keys.push('-\r');
    expect(acts).toEqual([{ kind: 'shelve', alarm: 'outside-prediction:logic.case', minutes: 30 }]);
  });

  it('what destroys gets ten minutes at most', () => {
    const { keys, acts } = atKeys(troubled());
    keys.push('s+++\r');
    expect(acts).toEqual([{ kind: 'shelve', alarm: VOLTS, minutes: 10 }]);
  });

  it('takes up again what is aside', () => {
    const watched = poweredCabin().feed(reading(600, 'meter volts', 6));
    watched.feed({ kind: 'shelve', atMs: 700, alarm: VOLTS, untilMs: 300_000 });
    const { keys, acts } = atKeys(watched);
    keys.push('s');
    expect(keys.lines[0]).toMatch(/^Take up again: /);
    keys.push('\r');
    expect(acts).toEqual([{ kind: 'shelve', alarm: VOLTS, minutes: null }]);
  });
});

describe('l: the load', () => {
  it.each([
    ['i', 'idle'],
    ['t', 'typical'],
    ['f', 'full'],
  ] as const)('%s is %s', (key, load) => {
    const { keys, acts, said } = atKeys();
    keys.push('l');
    expect(keys.lines).toEqual([
      'Judged for typical load. What do the rails draw?',
      'i: idle   t: typical   f: full   Esc: leave it',
    ]);
    keys.push(key);
    expect(acts).toEqual([{ kind: 'load', load }]);
    expect(said).toEqual([`From now on the readings are judged for ${load} load.`]);
  });

  it('is no other key, Enter neither', () => {
    const { keys, acts } = atKeys();
    keys.push('l\rx');
    expect(acts).toEqual([]);
    expect(keys.lines).toHaveLength(2);
  });
});

const order = (what: 'arm' | 'disarm' | 'test' | 'on' | 'off', inSight: boolean) =>
  ({ kind: 'cut-off', output: RELAY, order: what, inSight }) as const;

describe('c: the cut-off', () => {
  it('says where it stands and what can be done', () => {
    const { keys } = atKeys();
    keys.push('c');
    expect(keys.lines).toEqual([
      'mains-relay: not armed: no alarm drops it; whether power is on is not known.',
      'o: power off now   p: power on   a: arm   Esc: leave it',
    ]);
  });

  it('is armed by somebody who types that the supply is in sight, with the caution before their eyes', () => {
    const { keys, acts } = atKeys();
    keys.push('ca');
    expect(keys.lines.join(' ')).toMatch(/doesn't replace a fuse, a lamp limiter or a person/);
    expect(keys.lines.at(-1)).toMatch(/^Type "in sight"/);
    keys.push('in sigth\u007f\u007fht');
    expect(keys.lines.at(-1)).toMatch(/: in sight$/);
    expect(acts).toEqual([]);
    keys.push('\r');
    expect(acts).toEqual([order('arm', true)]);
  });

  it.each(['', 'y', 'yes', 'in', 'insight', 'sight in'])('is not armed at %j', (typed) => {
    const { keys, acts, said } = atKeys();
    keys.push(`ca${typed}\r`);
    expect(acts).toEqual([]);
    expect(said).toEqual(['Not done: only "in sight", by somebody who sees the supply, does it.']);
  });

  it('takes power away at one key more, and asks once more before it is disarmed', () => {
    const { keys, acts, watched } = atKeys();
    watched.feed({ ...order('arm', true), atMs: 200 });
    keys.push('cd');
    expect(acts).toEqual([]);
    keys.push('\rco');
    expect(acts).toEqual([order('disarm', false), order('off', false)]);
  });

  it('is tested, and lets power through, with the same words', () => {
    const { keys, acts, watched } = atKeys();
    watched.feed({ ...order('arm', true), atMs: 200 });
    keys.push('ctin sight\rcpIn Sight\r');
    expect(acts).toEqual([order('test', true), order('on', true)]);
  });

  it('says why not, and offers nothing that would be refused', () => {
    const { keys, acts, said, watched } = atKeys();
    watched.feed(reading(600, 'meter volts', 18));
    keys.push('c');
    expect(keys.lines.at(-1)).not.toMatch(/arm/);
    keys.push('a');
    expect(said[0]).toMatch(/^Not done: passing-input:logic\.volts stands/);
    expect(acts).toEqual([]);
  });

  it('is told to be missing where the bench has none', () => {
    const { keys, said } = atKeys(poweredCabin());
    keys.push('c');
    expect(said[0]).toMatch(/no output that may be switched.*armed: true/);
  });

  it('goes to the next one of several at n', () => {
    const [first] = SUPPLIED.cutOffs!;
    const plan: WatchPlan = { ...SUPPLIED, cutOffs: [first!, { ...first!, output: 'lamp-relay' }] };
    const { keys, acts } = atKeys(poweredCabin(plan));
    keys.push('cno');
    expect(acts).toEqual([{ kind: 'cut-off', output: 'lamp-relay', order: 'off', inSight: false }]);
  });

  it.each([1, 2, 3])('nothing that leans on the keys arms it (seed %i, 20,000 keys)', (seed) => {
    const uniform = uniformNoise(seed);
    const { keys, acts } = atKeys();
    const all = 'abcdefghijklmnopqrstuvwxyz \r\u001b+-?0';
    for (let i = 0; i < 20_000; i += 1) keys.push(all[Math.floor(uniform() * all.length)]!);
    expect(acts.length).toBeGreaterThan(0);
    expect(acts.filter((act) => act.kind === 'cut-off' && act.inSight)).toEqual([]);
  });
});

describe('keys as lines, where readings are typed', () => {
  it('are a letter alone; everything else is a reading', () => {
    const { keys, acts, said } = atKeys(troubled());
    expect(keys.line('logic.volts 5.02')).toBe(false);
    expect(keys.line('')).toBe(false);
    expect(keys.line(' a ')).toBe(true);
    expect(said.at(-1)).toMatch(/^Enter: I have seen it/);
    expect(keys.line('')).toBe(true);
    expect(acts).toEqual([{ kind: 'acknowledge', alarm: VOLTS }]);
  });

  it('give way to a reading that is typed while something is asked', () => {
    const { keys, said } = atKeys();
    keys.line('l');
    expect(keys.line('5.02')).toBe(false);
    expect(said.at(-1)).toBe('Left as it was.');
    expect(keys.line('5.02')).toBe(false);
  });

  it('arm with the words as a line', () => {
    const { keys, acts } = atKeys();
    for (const line of ['c', 'a', 'in sight']) keys.line(line);
    expect(acts).toEqual([order('arm', true)]);
  });

  it('are left with Esc and Enter', () => {
    const { keys } = atKeys();
    keys.line('l');
    expect(keys.line('\u001b')).toBe(true);
    expect(keys.lines).toHaveLength(1);
  });
});

it('nothing that is asked is wider than 79 columns, an alarm of many words neither', () => {
  const { keys } = atKeys(troubled());
  for (const opens of ['a', 's', 'l', 'c', 'ca', 'cd']) {
    keys.push(`\u001b${opens}`);
    expect(Math.max(...keys.lines.map((line) => line.length))).toBeLessThan(80);
  }
});
