import type { AdviceStates } from './states.js';

/** Less than this isn't worth a word: K of a junction, shares of a current. */
const NOTABLE_KELVIN = 3;
const NOTABLE_SHARE = 1.1;

/** What a change makes worse without making it wrong, in words. */
export function worsened(before: AdviceStates, after: AdviceStates): string[] {
  return [...hotter(before, after), ...current(before, after), ...inrush(before, after)];
}

function hotter({ fullHot: before }: AdviceStates, { fullHot: after }: AdviceStates): string[] {
  return [...after.heated].flatMap(([part, { junction }]) => {
    const was = before.heated.get(part)?.junction ?? Infinity;
    if (junction < was + NOTABLE_KELVIN) return [];
    return [
      `at full load in the hottest case the junction of ${part} goes from ${was.toFixed(0)} to ${junction.toFixed(0)} °C.`,
    ];
  });
}

function current({ full: before }: AdviceStates, { full: after }: AdviceStates): string[] {
  if (after.windingAmps < NOTABLE_SHARE * before.windingAmps) return [];
  return [
    `the winding carries ${after.windingAmps.toFixed(2)} A RMS instead of ${before.windingAmps.toFixed(2)} A.`,
  ];
}

function inrush({ inrushAmps: before }: AdviceStates, { inrushAmps: after }: AdviceStates): string[] {
  if (after < NOTABLE_SHARE * before) return [];
  return [`the inrush at switch-on goes from ${before.toFixed(0)} to ${after.toFixed(0)} A.`];
}
