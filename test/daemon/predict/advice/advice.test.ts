import { describe, expect, it } from 'vitest';
import { predict } from '../../../../daemon/predict/predict.js';
import type { Advice } from '../../../../daemon/predict/prediction.js';
import { cabin, type Change } from '../../design/signal-cabin.js';

function adviceOn(...changes: readonly Change[]): readonly Advice[] {
  return predict(cabin(...changes), { load: 'typical' }).advice;
}

function wrong(advice: readonly Advice[]): readonly Advice[] {
  return advice.filter(({ severity }) => severity === 'destroys' || severity === 'misbehaves');
}

/** What is wrong: neither notes nor what to have ready. */
function findings(advice: readonly Advice[]): string[] {
  return wrong(advice).map(({ finding, about }) => `${finding} ${about}`);
}

const BARE_LAMPS = ['heatsink: 8 # K/W', 'heatsink: none # K/W'] as const;

describe('advice on cooling', () => {
  it('names the heat, the temperatures and the heatsink that would do', () => {
    const [advice] = adviceOn(BARE_LAMPS);
    expect(advice).toMatchObject({ finding: 'heatsink-missing', about: 'lamps', severity: 'destroys' });
    const { heatsink_KperW: needed = NaN, dissipation_W: watts = NaN } = advice?.numbers ?? {};
    expect(advice?.sentence).toContain(
      `turns ${watts.toFixed(1)} W into heat at full load; without a heatsink`,
    );
    const [cure] = advice?.cures ?? [];
    const [change] = cure?.changes ?? [];
    expect(change?.key).toBe('rails.lamps.cooling.heatsink');
    expect(change?.value).toBeLessThanOrEqual(needed);
    expect(advice?.cure).toContain(`a heatsink of at most ${Number(change?.value)} K/W`);
  });

  it('the heatsink that it asks for silences it', () => {
    const needed = adviceOn(BARE_LAMPS)[0]?.numbers['heatsink_KperW'] ?? NaN;
    expect(findings(adviceOn(['heatsink: 8 #', `heatsink: ${(needed * 0.99).toFixed(2)} #`]))).toEqual([]);
    expect(findings(adviceOn(['heatsink: 8 #', `heatsink: ${(needed * 1.05).toFixed(2)} #`]))).toEqual([
      'heatsink-small lamps',
    ]);
  });

  it('a heatsink that only fails on the hottest day misbehaves rather than destroys', () => {
    expect(adviceOn(['heatsink: 8 #', 'heatsink: 14 #'])[0]).toMatchObject({
      finding: 'heatsink-small',
      severity: 'misbehaves',
    });
  });

  it('says when no heatsink is enough', () => {
    const [hot] = adviceOn(
      ['volts: 15 #', 'volts: 24 #'],
      ['va: 30', 'va: 200'],
      ['working_volts: 35', 'working_volts: 63'],
      ['full: 0.5', 'full: 1.4'],
    );
    expect(hot?.finding).toBe('heatsink-small');
    expect(hot?.cures.every(({ changes }) => !changes[0]?.key.endsWith('heatsink'))).toBe(true);
  });
});

describe('advice on volts', () => {
  // 15 V x 1.12 x 1.1 x 1.414 = 26.1 V less two diodes.
  it('a reservoir that is too low for the unloaded peak at high mains', () => {
    const [advice] = adviceOn(['working_volts: 35', 'working_volts: 25']);
    expect(advice).toMatchObject({ finding: 'capacitor-volts', about: 'reservoir', severity: 'destroys' });
    expect(advice?.numbers['peak_V']).toBeGreaterThan(24.8);
    expect(advice?.numbers['peak_V']).toBeLessThan(26.1);
    expect(advice?.cure).toContain('Fit a capacitor of at least 35 V');
  });

  it('more volts than a regulator takes', () => {
    const advice = adviceOn(['volts: 15 #', 'volts: 24 #'], ['working_volts: 35', 'working_volts: 63']);
    expect(findings(advice)).toContain('regulator-input-volts logic');
  });

  it('a valley below dropout at low mains', () => {
    const advice = adviceOn(['volts: 15 #', 'volts: 12 #']).find(
      ({ finding }) => finding === 'dropout-at-low-mains',
    );
    expect(advice).toMatchObject({ about: 'lamps', severity: 'misbehaves' });
    expect(advice?.numbers['valley_V']).toBeLessThan(advice?.numbers['needed_V'] ?? 0);
    expect(advice?.sentence).toContain('At 207 V mains and full load');
  });

  it('a small reservoir is cured by a larger one, and that cures it', () => {
    const small = ['capacity_uF: 4700', 'capacity_uF: 470'] as const;
    const [advice] = adviceOn(small).filter(({ finding }) => finding === 'dropout-at-low-mains');
    const larger = /at least (\d+) uF/.exec(advice?.cure ?? '')?.[1];
    expect(Number(larger)).toBeGreaterThan(470);
    expect(findings(adviceOn(['capacity_uF: 4700', `capacity_uF: ${larger}`]))).not.toContain(
      'dropout-at-low-mains lamps',
    );
  });
});

describe('advice on current', () => {
  it('a transformer that is too small for the pulses', () => {
    const [advice] = adviceOn(['va: 30', 'va: 15']);
    expect(advice).toMatchObject({
      finding: 'transformer-overload',
      about: 'transformer',
      severity: 'destroys',
    });
    expect(advice?.numbers['secondary_Arms']).toBeGreaterThan(advice?.numbers['mean_A'] ?? Infinity);
  });

  it('a reservoir whose ripple rating is too low', () => {
    expect(findings(adviceOn(['ripple_amps: 2.5', 'ripple_amps: 0.5']))).toEqual([
      'capacitor-ripple-current reservoir',
    ]);
  });

  it('a load beyond what every sample gives', () => {
    expect(findings(adviceOn(['full: 0.5', 'full: 1.6'], ['va: 30', 'va: 200']))).toContain(
      'regulator-current lamps',
    );
  });

  // TI LM317 SLVS044Z: up to 10 mA; 1.25 V / 240 ohm are 5.2 mA.
  it('an idle load that some samples cannot hold', () => {
    const asked = (idle: string) =>
      adviceOn(['idle: 0.05', idle]).filter(({ finding }) => finding === 'minimum-load');
    expect(asked('idle: 0')).toMatchObject([{ about: 'lamps', severity: 'note' }]);
    expect(asked('idle: 0.005')).toEqual([]);
  });

  it('the most destructive comes first', () => {
    const advice = adviceOn(
      ['working_volts: 35', 'working_volts: 16'],
      ['idle: 0.05', 'idle: 0'],
      ['ripple_amps: 2.5', 'ripple_amps: 0.5'],
    );
    const order = ['destroys', 'misbehaves', 'note', 'ready'];
    const places = advice.map(({ severity }) => order.indexOf(severity));
    expect(new Set(places).size).toBe(4);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
  });

  it('does not depend on the load that is asked for', () => {
    const design = cabin(BARE_LAMPS);
    expect(predict(design, { load: 'idle' }).advice).toEqual(predict(design, { load: 'full' }).advice);
  });
});
