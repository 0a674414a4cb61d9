import type { Cooling } from '../design/design-cooling.js';
import type { Design, Rail } from '../design/design.js';
import { polarityOf } from '../design/feeds.js';
import { partWords, regulatorOf } from '../predict/part-words.js';
import type { Check } from './step.js';

/** Interfaces that keep a tab off its heatsink. */
const INSULATING = ['mica-dry', 'mica-greased', 'silicone-pad'];
/** Packages whose back is insulated by itself. */
const INSULATED = ['TO-220FP', 'module'];
const LEAST_TAB_OHMS = 1e6;

/** Whether each part that is screwed to metal is isolated, or its heatsink is. */
export function tabChecks(design: Design): Check[] {
  const { rails, filter } = design;
  const follower =
    filter?.kind === 'multiplier' ? [tabCheck('filter', filter.cooling, 'its input', design)] : [];
  return [
    ...follower,
    ...Object.entries(rails).map(([name, rail]) =>
      tabCheck(name, rail.cooling, tabWords(name, rail, design), design),
    ),
  ].flatMap((check) => check ?? []);
}

function tabCheck(name: string, cooling: Cooling | undefined, tab: string, design: Design): Check | null {
  if (cooling === undefined || cooling.heatsink === 'none' || INSULATED.includes(cooling.package))
    return null;
  const part = `${partWords(name, design)} of ${name}`;
  const shared = {
    id: `tab-${name}`,
    caution: 'Plug out, reservoir empty: a tab may sit at the full volts of its input.',
    waiver: null,
    vital: false,
    whenWrong: `Look for a burr, a torn washer or a bare screw under the ${part}.`,
  };
  if (INSULATING.includes(cooling.interface)) {
    return {
      ...shared,
      ask: `Ohms from the tab of the ${part} to its heatsink? (OL is right)`,
      number: { unit: 'ohm', low: LEAST_TAB_OHMS, high: null },
      reason: `its tab is ${tab} and sits on ${cooling.interface}; common practice`,
    };
  }
  const touches = tab === 'ground' ? 'nothing but ground' : 'neither the case nor another heatsink';
  return {
    ...shared,
    ask: `Does the heatsink of the ${part} touch ${touches}?`,
    number: null,
    reason: `it is joined to the tab, which is ${tab}; common practice`,
  };
}

/** What the tab is joined to inside, as the datasheets of three-terminal regulators have it (from memory). */
function tabWords(name: string, rail: Rail, design: Design): string {
  const regulator = regulatorOf(name, design);
  if (regulator === null || polarityOf(rail, design) === 'negative') return 'its input';
  return regulator.kind === 'adjustable' ? 'its output' : 'ground';
}
