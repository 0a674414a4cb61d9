import fc from 'fast-check';
import { CUT_OFF_ORDERS, SERVICES, type WatchEvent } from '../../../daemon/watch/events.js';

const name = fc.constantFrom('meter', 'scope', 'thermometer', 'Zähler ✓', 'a "quoted"\nname');
const atMs = fc.oneof(
  fc.nat(),
  fc.nat({ max: 1_000_000_000 }).map((micros) => micros / 1000),
);
const number = fc.double({ noNaN: true, noDefaultInfinity: true });
/** JSON has no minus zero. */
const plain = number.map((value) => value + 0);
const unit = fc.constantFrom('V', 'Vrms', 'A', 'ohm', 'degC', 'Hz');
const text = fc.string({ unit: 'grapheme', maxLength: 40 });
const point = fc.option(fc.constantFrom('logic.volts', 'logic.case'), { nil: null });

function kind<K extends WatchEvent['kind']>(word: K) {
  return fc.constant(word);
}

/** As the program makes them: with the prototype of every object. */
function record<T>(model: { [K in keyof T]: fc.Arbitrary<T[K]> }): fc.Arbitrary<T> {
  return fc.record(model, { noNullPrototype: true });
}

/** Any event at all, odd text and numbers included. */
export const anyEvent: fc.Arbitrary<WatchEvent> = fc.oneof(
  record({ kind: kind('reading'), atMs, instrument: name, channel: name, value: number, unit }),
  record({
    kind: kind('reading'),
    atMs,
    instrument: name,
    channel: name,
    value: fc.constant(null),
    unit,
    mark: fc.constantFrom('overload', 'not-a-number', 'out-of-range'),
  }),
  record({ kind: kind('tick'), atMs }),
  record({ kind: kind('stall'), atMs, stalledMs: fc.nat() }),
  record({
    kind: kind('service'),
    atMs,
    service: fc.constantFrom(...SERVICES),
    name,
    working: fc.boolean(),
    why: text,
  }),
  record({ kind: kind('note'), atMs, text }),
  record({ kind: kind('acknowledge'), atMs, alarm: text }),
  record({ kind: kind('load'), atMs, load: fc.constantFrom('idle', 'typical', 'full') }),
  record({ kind: kind('shelve'), atMs, alarm: text, untilMs: fc.option(atMs, { nil: null }) }),
  record({
    kind: kind('cut-off'),
    atMs,
    output: name,
    order: fc.constantFrom(...CUT_OFF_ORDERS),
    inSight: fc.boolean(),
  }),
  record({
    kind: kind('output'),
    atMs,
    output: name,
    position: fc.constantFrom('on', 'off'),
    failed: fc.option(text, { nil: null }),
  }),
  record({ kind: kind('hook'), atMs, hook: name, alarm: text, failed: fc.option(text, { nil: null }) }),
  record({
    kind: kind('clock'),
    atMs,
    was: fc.constantFrom('2026-11-25T08:40:00.555Z', '1970-01-01T00:00:00.000Z'),
    is: fc.constantFrom('2026-11-25T09:40:00.555Z', '2027-11-25T09:40:00.555Z'),
    unwatchedMs: fc.nat(),
  }),
  record({ kind: kind('recorder'), atMs, writing: fc.boolean(), why: text }),
  record({ kind: kind('probe'), atMs, instrument: name, channel: name, point }),
  record({
    kind: kind('capture'),
    atMs,
    instrument: name,
    channel: name,
    point,
    unit: fc.constantFrom('V', 'A'),
    counts: fc.constantFrom('i16', 'u16'),
    samples: fc
      .uint8Array({ minLength: 1, maxLength: 40 })
      .map((bytes) => Buffer.concat([bytes, bytes]).toString('base64')),
    scale: plain,
    offset: plain,
    startSeconds: plain,
    stepSeconds: fc.constantFrom(1e-6, 4e-5, 0.002),
    coupling: fc.constantFrom('dc', 'ac', 'ground', 'unknown'),
  }),
  record({
    kind: kind('expect'),
    atMs,
    load: fc.constantFrom('idle', 'typical', 'full'),
    step: fc.option(name, { nil: null }),
    measured: fc.array(name, { maxLength: 2 }),
    bands: fc.dictionary(name, record({ low: plain, typical: plain, high: plain }), {
      noNullPrototype: true,
      maxKeys: 3,
    }),
  }),
  record({
    kind: kind('suspects'),
    atMs,
    from: fc.array(name, { maxLength: 2 }),
    suspects: fc.array(
      record({
        fault: name,
        about: name,
        title: text,
        probability: plain,
        evidence: fc.constant([]),
        action: record({ switchOff: fc.boolean(), words: text }),
      }),
      { maxLength: 2 },
    ),
    other: plain,
    next: fc.option(
      record({
        point: name,
        gainBits: plain,
        unit,
        splits: fc.constant([]),
        way: fc.option(record({ instrument: name, channel: name, isTyped: fc.boolean() }), { nil: null }),
      }),
      { nil: null },
    ),
    odd: fc.array(name, { maxLength: 1 }),
    parameters: fc.constant([]),
  }),
  record({ kind: kind('step'), atMs, step: name, action: fc.constantFrom('begin', 'back') }),
  record({
    kind: kind('step'),
    atMs,
    step: name,
    action: fc.constant('answer'),
    check: name,
    answer: fc.oneof(plain, fc.constantFrom('yes', 'no', 'open', 'waived')),
  }),
  record({
    kind: kind('step'),
    atMs,
    step: name,
    action: fc.constantFrom('override', 'abort'),
    reason: text,
  }),
  record({ kind: kind('step'), atMs, step: name, action: fc.constant('sign'), name: text }),
  record({ kind: kind('fault'), atMs, instrument: name, code: text, count: fc.nat(), detail: text }),
  record({
    kind: kind('instrument'),
    atMs,
    instrument: name,
    state: fc.constantFrom('waiting', 'open', 'reading', 'lost', 'closed'),
    why: text,
    identity: text,
  }),
);
