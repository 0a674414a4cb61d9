import type { Design } from '../../design/design.js';
import type { Cooling, HeatsinkMeasures, SharedHeatsink } from '../../design/design-cooling.js';
import { partsOf } from '../../design/own-parts.js';
import { interfaceResistance } from '../../design/parts/interfaces.js';
import type { Spread } from '../../design/parts/spread.js';
import { HEATSINK_DOUBT } from '../doubts.js';
import type { HeatsinkSize } from '../thermal/heatsink-size.js';
import { named, share, within } from './spreads.js';
import type { CoolingDescription, HeatsinkDescription, MountingDescription } from './supply.js';

/** Share either way by which bare packages differ from their K/W, because makers don't state the rise it holds at. */
const BARE_DOUBT = 0.1;
/** Heat capacity of a small heatsink times its K/W: five to fifteen minutes (common practice), s. */
const HEATSINK_SECONDS: Spread = { low: 300, typical: 500, high: 900 };
/** Of a case's heat capacity, what the die and its tab under it have (from memory). */
const JUNCTION_SHARE = 1 / 30;

/**
 * How a part is cooled; `name` is the rail's, or `filter`.
 * @throws {RangeError} for a package or interface that isn't known; a loaded design has none such.
 */
export function describeCooling(name: string, cooling: Cooling, design: Design): CoolingDescription {
  const part = partsOf(design).packages.get(cooling.package);
  if (part === undefined) throw new RangeError(`package "${cooling.package}" isn't in the part library`);
  const { junctionCase, junctionAir, caseHeatCapacity } = part;
  return {
    package: {
      junctionToCase: named(`${name}.junctionCase`, junctionCase),
      junctionToAir: named(`${name}.junctionAir`, {
        low: junctionAir.low * (1 - BARE_DOUBT),
        typical: junctionAir.typical,
        high: junctionAir.high * (1 + BARE_DOUBT),
      }),
      junctionCapacity: JUNCTION_SHARE * caseHeatCapacity.typical,
      caseCapacity: named(`${name}.caseCapacity`, caseHeatCapacity),
    },
    mounting: mountingOf(name, cooling, part.outline ?? part.name),
    probeContact: 1,
  };
}

/** The heatsinks that several parts share. */
export function describeHeatsinks({ heatsinks = {} }: Design): Record<string, HeatsinkDescription> {
  return Object.fromEntries(
    Object.entries(heatsinks).map(([name, sink]) => [name, sharedOf(`heatsink-${name}`, sink)]),
  );
}

function mountingOf(name: string, cooling: Cooling, outline: string): MountingDescription | null {
  const { heatsink, heat_capacity } = cooling;
  if (heatsink === 'none') return null;
  return {
    interface: named(`${name}.caseSink`, interfaceResistance(cooling.interface, outline)),
    fitted: true,
    heatsink: typeof heatsink === 'string' ? heatsink : sinkOf(name, heatsink, heat_capacity),
  };
}

function sharedOf(name: string, sink: SharedHeatsink): HeatsinkDescription {
  if (typeof sink === 'object' && 'to_air' in sink) return sinkOf(name, sink.to_air, sink.heat_capacity);
  return sinkOf(name, sink, undefined);
}

function sinkOf(
  name: string,
  sink: number | HeatsinkMeasures,
  capacity: number | undefined,
): HeatsinkDescription {
  const doubt = share(1, HEATSINK_DOUBT.low, HEATSINK_DOUBT.high);
  if (typeof sink === 'object') {
    return { kind: 'sized', size: sizeOf(sink), factor: named(`${name}.toAir`, doubt) };
  }
  const { low, typical, high } = HEATSINK_SECONDS;
  const usual = { low: low / sink, typical: typical / sink, high: high / sink };
  return {
    kind: 'rated',
    toAir: named(`${name}.toAir`, share(sink, HEATSINK_DOUBT.low, HEATSINK_DOUBT.high)),
    capacity: named(`${name}.sinkCapacity`, capacity === undefined ? usual : within(capacity, 0.1)),
  };
}

/** Measures in the metres of the thermal model. A finned one's back counts as covered: screwed to a wall or board. */
function sizeOf(measures: HeatsinkMeasures): HeatsinkSize {
  const { length_mm, width_mm, height_mm, fins, base_mm, fin_mm, finish, stands } = measures;
  const common = {
    length: length_mm / 1000,
    width: width_mm / 1000,
    orientation: stands === 'upright' ? ('vertical' as const) : ('horizontal' as const),
    finish,
  };
  if (fins === 0) return { ...common, kind: 'plate', thickness: height_mm / 1000 };
  return {
    ...common,
    kind: 'finned',
    baseThickness: base_mm / 1000,
    finHeight: (height_mm - base_mm) / 1000,
    finThickness: fin_mm / 1000,
    finCount: fins,
    backFree: false,
  };
}
