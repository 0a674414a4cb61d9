import type { Design } from '../design/design.js';
import { usualFuse } from '../predict/advice/fuse.js';
import type { Outlet } from './outlets.js';
import type { Check } from './step.js';
import { tabChecks } from './tab-checks.js';

/** What a fuse may be less than written before it goes in use, as a share (common practice). */
const SMALLEST_FUSE = 0.3;
/** A meter's test volts wake no silicon, so an unloaded rail reads far above this (common practice), ohm. */
const LEAST_RAIL_OHMS = 10;
const LEAST_RAW_OHMS = 100;

/** Everything that is checked before any power, in the order in which a hand goes round. */
export function coldChecks(design: Design, outlets: readonly Outlet[]): Check[] {
  return [
    fuseCheck(design),
    EARTH,
    INSULATION,
    SEPARATION,
    ...polarityChecks(design),
    ...reservoirsOf(design).map(rawShort),
    ...Object.entries(design.rails).map(([name]) =>
      railShort(name, outlets.find((outlet) => outlet.name === name)?.dummy?.ohms ?? 0),
    ),
    ...tabChecks(design),
  ];
}

function fuseCheck(design: Design): Check {
  const written = design.transformer.fuse_amps;
  const { fuseAmps, reason } = usualFuse(design);
  const amps = written ?? fuseAmps;
  return {
    id: 'fuse',
    ask: `What stands on the primary fuse, in A? It should be slow (T), ${amps} A`,
    caution: 'Plug out before the fuse holder is opened. Never bridge a fuse, not for a moment.',
    number: { unit: 'A', low: SMALLEST_FUSE * amps, high: amps },
    waiver: null,
    vital: true,
    reason: written === undefined ? reason : 'transformer.fuse_amps in the design file',
    whenWrong: `Fit a slow (T) fuse of ${amps} A.`,
  };
}

/**
 * 0.3 ohm for a lead of up to 5 m: EN 50699 (before: VDE 0701-0702), and 0.1 ohm and the lead in the IET code of
 * practice for in-service inspection; both from memory.
 */
const EARTH: Check = {
  id: 'earth',
  ask: 'Ohms from the earth pin of the plug to each metal part that can be touched? Type the highest',
  caution: 'Plug out. Subtract what the test leads read when they touch each other.',
  number: { unit: 'ohm', low: null, high: 0.3 },
  waiver: 'no metal can be touched and there is no earth (class II)',
  vital: true,
  reason: 'EN 50699 / VDE 0701-0702: 0.3 ohm for leads up to 5 m; from memory, your local code decides',
  whenWrong: 'Mend the earth: a star washer on bare metal, its wire the longest of the three.',
};

/** 1 Mohm at 500 V DC between the joined live conductors and earth: the same codes, class I; from memory. */
const INSULATION: Check = {
  id: 'insulation',
  ask: 'Insulation, live and neutral joined, to earth and metal at 500 V DC: how many ohms? (5M, OL)',
  caution: 'The tester puts out 500 V: touch nothing while it runs, and keep it off the secondary side.',
  number: { unit: 'ohm', low: 1e6, high: null },
  waiver: 'no metal can be touched and there is no earth (class II)',
  vital: true,
  reason: 'EN 50699 / VDE 0701-0702: 1 Mohm for class I at 500 V DC; from memory, your local code decides',
  whenWrong: 'Do not power it. Look for a nicked wire, a burr, damp, or a failed transformer.',
};

/** 2 Mohm, what those codes ask of reinforced insulation (class II); from memory. */
const SEPARATION: Check = {
  id: 'separation',
  ask: 'Insulation, live and neutral joined, to the secondary winding at 500 V DC: how many ohms?',
  caution: 'Take the secondary off the rectifier first: 500 V kill semiconductors. Touch nothing meanwhile.',
  number: { unit: 'ohm', low: 2e6, high: null },
  waiver: null,
  vital: true,
  reason: 'EN 50699 / VDE 0701-0702: 2 Mohm for class II at 500 V DC; from memory, your local code decides',
  whenWrong: 'Do not power it: the rails could carry mains. Change the transformer.',
};

const CHARGED = 'A capacitor that was ever powered may be charged: measure volts before ohms.';

function reservoirsOf({ rectifier }: Design): string[] {
  return rectifier.kind === 'split-bridge' ? ['reservoir', 'negative-reservoir'] : ['reservoir'];
}

function polarityChecks(design: Design): Check[] {
  const negative = design.rectifier.kind === 'split-bridge';
  const asks: readonly (readonly [string, string])[] = [
    ['polarity-rectifier', 'Do the bands or marks of all rectifier diodes point as in the schematic?'],
    ['polarity-reservoir', "Does the reservoir's stripe (minus) sit on ground?"],
    ...(negative
      ? [['polarity-negative-reservoir', "Does the negative reservoir's plus sit on ground?"] as const]
      : []),
    [
      'polarity-parts',
      'Do all other electrolytics, and the pins of each regulator, sit as in the schematic?',
    ],
  ];
  return asks.map(([id, ask]) => ({
    id,
    ask,
    caution: CHARGED,
    number: null,
    waiver: null,
    vital: true,
    reason: 'an electrolytic the wrong way round bursts; common practice',
    whenWrong: 'Turn the part round before any power. Change an electrolytic that was powered the wrong way.',
  }));
}

function rawShort(reservoir: string): Check {
  return {
    id: `short-${reservoir}`,
    ask: `Ohms across the ${reservoir.replace('-', ' ')}, once the reading has climbed?`,
    caution: CHARGED,
    number: { unit: 'ohm', low: LEAST_RAW_OHMS, high: null },
    waiver: null,
    vital: false,
    reason: 'no short: the reading climbs while the meter charges the capacitor; common practice',
    whenWrong: 'Look for solder bridges, a diode that is shorted, a capacitor the wrong way round.',
  };
}

function railShort(rail: string, loadOhms: number): Check {
  return {
    id: `short-${rail}`,
    ask: `Ohms from ${rail} to ground, nothing plugged in?`,
    caution: 'Unplug the module first: its own ohms would hide a short, and the meter may harm it.',
    number: { unit: 'ohm', low: Math.max(LEAST_RAIL_OHMS, loadOhms), high: null },
    waiver: null,
    vital: false,
    reason: 'no short: more ohms than the load itself has at full amps; common practice',
    whenWrong: `Look for a solder bridge at ${rail}, a capacitor the wrong way round, a shorted regulator.`,
  };
}
