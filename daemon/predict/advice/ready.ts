import { seriesOhms } from '../../design/design-rail.js';
import type { Advice, PartFigures } from '../prediction.js';
import { usualFuse } from './fuse.js';
import { seenThroughShort } from './shorted-regulator.js';
import type { AdviceStates } from './states.js';
import { ratedWatts } from './values-to-buy.js';

type Ready = Pick<Advice, 'finding' | 'about' | 'sentence' | 'numbers' | 'reason' | 'cure'>;

/** What a first power-up needs at hand, and what to expect of it. */
export function readyFor(states: AdviceStates, parts: Readonly<Record<string, PartFigures>>): Advice[] {
  const rails = Object.keys(states.design.rails);
  return [
    fuseReady(states),
    ...rails.flatMap((rail) => dummyLoadReady(rail, parts[rail] ?? {}, states)),
    ...rails.flatMap((rail) => seriesReady(rail, states)),
    ...[...states.full.reservoirs.keys()].flatMap((node) => dischargeReady(node, parts[node] ?? {})),
    ...lampReady(parts['reservoir'] ?? {}),
  ].map((ready) => ({ ...ready, severity: 'ready', cures: [] }));
}

function fuseReady({ design }: AdviceStates): Ready {
  const { primaryAmps, fuseAmps, reason, defer } = usualFuse(design);
  const written = design.transformer.fuse_amps;
  const fuse =
    written === undefined ? `a slow (T) fuse of ${fuseAmps} A` : `its slow (T) fuse of ${written} A`;
  return {
    finding: 'fuse',
    about: 'transformer',
    sentence: `${fuse} in the primary`,
    numbers: { primary_A: primaryAmps, fuse_A: written ?? fuseAmps },
    reason,
    cure: defer,
  };
}

function dummyLoadReady(rail: string, figures: PartFigures, states: AdviceStates): Ready[] {
  const { dummy_load_ohm: ohms, dummy_load_W: watts } = figures;
  if (ohms === undefined || watts === undefined) return [];
  const seen = seenThroughShort(rail, states);
  const { high } = states.design.rails[rail]?.damage ?? {};
  const short =
    high !== undefined && seen > high
      ? ''
      : `; if the regulator failed short, the real load would see up to ${seen.toFixed(1)} V` +
        (high === undefined ? ', and the design does not say what it survives' : ', which it survives');
  return [
    {
      finding: 'dummy-load',
      about: rail,
      sentence: `a dummy load of ${ohms} ohm, ${watts} W for the soak${short}`,
      numbers: { dummy_load_ohm: ohms, dummy_load_W: watts, seen_V: seen },
      reason: 'R = V / I at full load, nearest E12 value; rated for twice its heat (common practice)',
      cure: 'The real load comes last.',
    },
  ];
}

function seriesReady(rail: string, { design, fullHot }: AdviceStates): Ready[] {
  const written = design.rails[rail];
  const state = fullHot.rails.get(rail);
  const ohms = written === undefined ? 0 : seriesOhms(written);
  if (state === undefined || ohms === 0) return [];
  const heat = ohms * state.inputAmps ** 2;
  return [
    {
      finding: 'series-resistor',
      about: rail,
      sentence: `its series resistor of ${ohms} ohm takes ${heat.toFixed(1)} W: a ${ratedWatts(heat)} W part`,
      numbers: { resistor_W: heat, rated_W: ratedWatts(heat) },
      reason: 'P = I^2 R; resistors are run at half their rating (common practice)',
      cure: 'Keep it clear of capacitors and wires.',
    },
  ];
}

function dischargeReady(reservoir: string, { safe_after_with_bleed_s: seconds }: PartFigures): Ready[] {
  if (seconds === undefined) return [];
  return [
    {
      finding: 'discharge',
      about: reservoir,
      sentence: `its bleed resistor takes ${seconds.toFixed(0)} s to empty it`,
      numbers: { safe_after_s: seconds },
      reason: 't = R C ln(peak / 1 V); discharge of a capacitor, textbook',
      cure: 'Measure it before you touch anything.',
    },
  ];
}

function lampReady({ lamp_unloaded_V: volts, lamp_inrush_peak_A: amps }: PartFigures): Ready[] {
  if (volts === undefined || amps === undefined) return [];
  return [
    {
      finding: 'lamp-limiter',
      about: 'reservoir',
      sentence: `unloaded behind a 60 W filament lamp in series with the primary it reads ${volts.toFixed(1)} V`,
      numbers: { lamp_unloaded_V: volts, lamp_inrush_A: amps },
      reason: 'cold and hot resistance of a tungsten filament, seen through the turns ratio squared',
      cure: 'A lamp that stays bright says something draws too much: switch off.',
    },
  ];
}
