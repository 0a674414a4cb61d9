import { describe, expect, it } from 'vitest';
import { RIPPLE_HERTZ, suspectClouds } from '../../../../daemon/watch/suspects/clouds.js';
import { judge } from '../../../../daemon/watch/suspects/judge.js';
import type { Suspect } from '../../../../daemon/watch/suspects/judgement.js';
import { beginSuspects } from '../../../../daemon/watch/suspects/model.js';
import type { Settled } from '../../../../daemon/watch/suspects/settled.js';
import {
  evidenceWords,
  nextWords,
  oddWords,
  parameterWords,
} from '../../../../daemon/watch/suspects/suspect-words.js';
import { cabin } from '../../design/signal-cabin.js';
import { sessionOf } from './sessions.js';

const design = cabin();
const model = beginSuspects([...suspectClouds(design, { load: 'typical', seed: 2, draws: 128 })]);

function settledWith(fault: string, about: string, seed: number): readonly Settled[] {
  return sessionOf(design, 'typical', { fault, about }, seed).settled;
}

/** The sentences for or against a suspect; a point is called by its id. */
function words({ evidence }: Suspect, speaks: 'for' | 'against'): string[] {
  return evidence.filter((each) => each.speaks === speaks).map((each) => evidenceWords(each, (id) => id));
}

function suspectNamed(settled: readonly Settled[], fault: string): Suspect {
  return judge(model, settled).suspects.find((each) => each.fault === fault)!;
}

describe('evidence (seed 7)', () => {
  // Common practice: half the pulses, about twice the ripple, and the current comes in fewer, larger pulses.
  it('an open diode is told by ripple and winding current, a dried reservoir by the ripple alone', () => {
    const settled = settledWith('diode-open', 'rectifier', 7);
    const [ripple, amps] = words(suspectNamed(settled, 'diode-open'), 'for');
    expect(ripple).toMatch(
      /^Reservoir\.ripple: \d\.\d\d V peak to peak, 2\.\d times what a healthy one reads\.$/,
    );
    expect(amps).toMatch(/^Transformer\.amps: 1\.\d\d A RMS, more than a healthy one's /);
    const dried = suspectNamed(settled, 'reservoir-dried');
    expect(words(dried, 'for')[0]).toMatch(/^Reservoir\.ripple/);
    expect(words(dried, 'against')[0]).toMatch(/^Transformer\.amps: .*, where this would read /);
  });

  // A full-wave rectifier ripples at twice the mains frequency, half of one at the mains frequency.
  it('the frequency of the ripple names the half that is missing', () => {
    const hertz = { point: RIPPLE_HERTZ, standardUncertainty: 0.1 };
    const open = judge(model, [{ ...hertz, value: 50.1 }]).suspects[0]!;
    expect(open.fault).toBe('diode-open');
    expect(words(open, 'for')).toEqual([
      "The ripple is at 50.1 Hz where 100.0 Hz was expected: one half of the rectifier isn't conducting.",
    ]);
    const whole = judge(model, [{ ...hertz, value: 99.9 }]).suspects.find(
      ({ fault }) => fault === 'diode-open',
    )!;
    expect(whole.probability).toBeLessThan(0.01);
  });

  it('a missing heatsink is told in kelvins', () => {
    const { suspects } = judge(model, settledWith('heatsink-missing', 'logic', 7));
    expect(suspects[0]).toMatchObject({ fault: 'heatsink-missing', about: 'logic' });
    expect(words(suspects[0]!, 'for')[0]).toMatch(
      /^Logic\.case: 1\d\d °C, \d\d+ K hotter than a healthy one\.$/,
    );
  });

  it('a warm room speaks against nobody: the case is compared in air as warm as was measured', () => {
    const room = { point: 'ambient.air', value: 33, standardUncertainty: 0.5 };
    // 11 K above the typical room, and so is the case (heat flows by differences).
    const case66 = { point: 'logic.case', value: 53 + 11, standardUncertainty: 0.5 };
    const probability = (settled: readonly Settled[]): number => suspectNamed(settled, 'healthy').probability;
    expect(probability([case66, room])).toBeGreaterThan(probability([case66]));
    expect(
      suspectNamed([room, case66], 'healthy').evidence.filter(({ speaks }) => speaks === 'against'),
    ).toEqual([]);
  });

  it('the strongest comes first, and only the first five suspects are explained', () => {
    const { suspects } = judge(model, settledWith('regulator-passes-input', 'logic', 7));
    for (const { evidence } of suspects) {
      const bits = evidence.map((each) => each.bits);
      expect(bits).toEqual([...bits].sort((a, b) => b - a));
    }
    expect(suspects.slice(5).every(({ evidence }) => evidence.length === 0)).toBe(true);
  });
});

describe('what to measure next', () => {
  const [volts, ripple] = settledWith('diode-open', 'rectifier', 7);

  // A dried capacitor and an open diode both double the ripple; only the diode changes the pulses of current.
  it('after twice the ripple, the winding current splits the two that make it', () => {
    const { next } = judge(model, [volts!, ripple!]);
    expect(next).toMatchObject({ point: 'transformer.amps', unit: 'Arms' });
    expect(next!.gainBits).toBeGreaterThan(0.5);
    expect(next!.splits).toHaveLength(2);
    expect(nextWords(next!, (id) => id)).toMatch(
      /^Measure transformer\.amps next: about \d\.\d\d A RMS if one .*, \d\.\d\d A RMS if .*\.$/,
    );
  });

  it('the frequency only where there is a scope', () => {
    const points = new Set([...model.points.map(({ id }) => id)]);
    expect(judge(model, [volts!, ripple!], points).next?.point).toBe(RIPPLE_HERTZ);
  });

  it('nothing, when all has been measured', () => {
    expect(judge(model, settledWith('diode-open', 'rectifier', 7)).next).toBeNull();
  });
});

describe('words', () => {
  it('a parameter is told with its band', () => {
    const typical = { low: 0.0022, typical: 0.0026, high: 0.0029 };
    expect(parameterWords({ id: 'reservoir.farads', unit: 'F', ...typical })).toBe(
      "The readings put the reservoir's capacitance at 2600 µF (2200 to 2900 µF).",
    );
    expect(parameterWords({ id: 'mains.volts', unit: 'V', low: 228.3, typical: 235, high: 241.8 })).toBe(
      'The readings put the mains volts at 235.0 V (228.3 to 241.8 V).',
    );
  });

  it('an odd reading is one to repeat', () => {
    expect(oddWords('logic.volts', () => 'logic rail')).toBe(
      "What was read at logic rail doesn't fit the other readings: check its probe and range, and measure it again.",
    );
  });
});
