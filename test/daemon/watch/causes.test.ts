import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { AlarmCause, AlarmFacts } from '../../../daemon/watch/alarm.js';
import { explains } from '../../../daemon/watch/causes.js';
import { LOGIC_HIGH, SUPPLIED } from './cabin.js';

const SUPPLY = {
  ...SUPPLIED.supply!,
  rails: [
    ...SUPPLIED.supply!.rails,
    { name: 'bells', from: 'lamps', polarity: 'positive', dropoutVolts: 1, switches: false },
  ],
} as const;

function alarm(cause: AlarmCause, active = true): AlarmFacts {
  const subject = 'point' in cause ? cause.point : '';
  return {
    id: `${cause.kind}:${subject}`,
    cause,
    priority: 'medium',
    active,
    acknowledged: false,
    latched: false,
    shelvedUntilMs: null,
    suppressedBy: [],
    firstUp: false,
    raisedAtMs: 0,
    returnedAtMs: null,
  };
}

const unitOf = (point: string) =>
  point.endsWith('.case')
    ? 'degC'
    : point.endsWith('.ripple')
      ? 'Vpp'
      : point.endsWith('.amps')
        ? 'Arms'
        : 'V';
const overLimit = (point: string) =>
  alarm({ kind: 'over-limit', point, value: 9, unit: unitOf(point), limit: LOGIC_HIGH });
const outside = (point: string, value = 1) =>
  alarm({ kind: 'outside-prediction', point, value, unit: unitOf(point), low: 4, high: 6 });
const passing = (rail: string) =>
  alarm({
    kind: 'passing-input',
    point: `${rail}.volts`,
    value: 18,
    unit: 'V',
    expected: 5,
    input: 'reservoir.volts',
    inputVolts: 20,
    inputMeasured: true,
  });
const noHeadroom = (rail: string) =>
  alarm({
    kind: 'no-headroom',
    point: `${rail}.volts`,
    input: 'reservoir.volts',
    inputVolts: 13,
    setVolts: 12,
    needsVolts: 2,
  });
const half = (point = 'reservoir.ripple') =>
  alarm({ kind: 'ripple-frequency', point, mainsHertz: 50, expected: 'twice-mains' });
const oscillating = (rail: string) =>
  alarm({ kind: 'oscillating', point: `${rail}.volts`, hertz: null, peakToPeak: 1, expected: null });

describe('what explains what', () => {
  it.each([
    ['a regulator that passes its input: too many volts there', passing('logic'), overLimit('logic.volts')],
    ['and on a rail fed by it', passing('lamps'), overLimit('bells.volts')],
    ['and that ripple comes through', passing('logic'), outside('logic.ripple')],
    ['a limit: that the value is outside too', overLimit('logic.case'), outside('logic.case')],
    [
      'a high reservoir: a high filter or rail behind it',
      overLimit('reservoir.volts'),
      outside('lamps.volts'),
    ],
    ['half a bridge: the size of the ripple', half(), outside('reservoir.ripple', 9)],
    ['half a bridge: that a rail has no headroom', half(), noHeadroom('lamps')],
    ['no headroom: hum and sag', noHeadroom('lamps'), outside('lamps.ripple', 9)],
    ['no headroom: too little on a rail fed by it', noHeadroom('lamps'), outside('bells.volts')],
    ['a low reservoir: no headroom', outside('reservoir.volts'), noHeadroom('lamps')],
    [
      'a high reservoir: a hotter regulator behind it',
      outside('reservoir.volts', 9),
      outside('lamps.case', 9),
    ],
    ['a low reservoir: less is drawn, less ripple', outside('reservoir.volts'), outside('reservoir.ripple')],
    ['a rail that is set too low: less is drawn', outside('lamps.volts'), outside('transformer.amps')],
    ['a passed input: more is drawn', passing('logic'), outside('transformer.amps', 9)],
    ['a low reservoir: less is drawn', outside('reservoir.volts'), outside('transformer.amps')],
    ['too much drawn: a low reservoir', outside('transformer.amps', 9), outside('reservoir.volts')],
    ['too much drawn: no headroom', outside('transformer.amps', 9), noHeadroom('lamps')],
    ['too much drawn: as much more ripple', outside('transformer.amps', 9), outside('reservoir.ripple', 10)],
    [
      'ripple beyond that: the winding’s pulses',
      outside('reservoir.ripple', 15),
      outside('transformer.amps', 8),
    ],
    ['an oscillation: the ripple’s size', oscillating('lamps'), outside('lamps.ripple', 9)],
  ])('%s', (_what, by, of) => {
    expect(explains(by, of, SUPPLY)).toBe(true);
  });

  it.each([
    [
      'a regulator that is too hot isn’t explained by passing its input',
      passing('logic'),
      overLimit('logic.case'),
    ],
    ['nor is another rail', passing('logic'), overLimit('lamps.volts')],
    ['damage is never explained by a prediction', outside('reservoir.volts', 9), overLimit('logic.volts')],
    ['too much doesn’t starve', outside('reservoir.volts', 9), noHeadroom('lamps')],
    ['a consequence doesn’t explain its cause', noHeadroom('lamps'), outside('reservoir.volts')],
    ['what has returned explains nothing', alarm(passing('logic').cause, false), overLimit('logic.volts')],
    ['nothing explains itself', outside('logic.volts'), outside('logic.volts')],
  ])('%s', (_what, by, of) => {
    expect(explains(by, of, SUPPLY)).toBe(false);
  });

  it('has no circles: whatever stands together, something stands for itself (seed 4711)', () => {
    const points = [
      'reservoir.volts',
      'reservoir.ripple',
      'transformer.amps',
      'filter.volts',
      'lamps.volts',
      'lamps.ripple',
      'lamps.case',
      'bells.volts',
      'logic.volts',
    ];
    const rails = ['lamps', 'logic', 'bells'];
    const any = fc.oneof(
      fc.constantFrom(...points).map(overLimit),
      fc
        .tuple(fc.constantFrom(...points), fc.constantFrom(1, 9))
        .map(([point, value]) => outside(point, value)),
      fc.constantFrom(...rails).map(passing),
      fc.constantFrom(...rails).map(noHeadroom),
      fc.constantFrom(...rails).map(oscillating),
      fc.constantFrom('reservoir.ripple', 'reservoir.volts').map(half),
    );
    fc.assert(
      fc.property(
        fc.uniqueArray(any, { selector: ({ id }) => id, minLength: 1, maxLength: 12 }),
        (alarms) => {
          // Taking away whatever stands for itself, again and again, leaves nothing.
          let left = alarms;
          while (left.length > 0) {
            const explained = left.filter((of) => left.some((by) => explains(by, of, SUPPLY)));
            expect(explained.length).toBeLessThan(left.length);
            left = explained;
          }
        },
      ),
      { seed: 4711, numRuns: 2000 },
    );
  });
});
