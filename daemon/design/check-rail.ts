import { checkCooling } from './check-cooling.js';
import { checkPart } from './check-part.js';
import { checkReach } from './check-reach.js';
import { checkSetVolts, checkWrittenVolts } from './check-set-volts.js';
import { checkLoadOrder } from './check-source.js';
import type { Design, Rail } from './design.js';
import type { OtherRegulator } from './design-rail.js';
import { nodesOf, originOf, polarityOf } from './feeds.js';
import { shown, type Finding } from './file-problems.js';
import { partsOf } from './own-parts.js';
import type { Regulator } from './parts/regulators.js';
import { railNeed } from './rail-need.js';

/** Everything about one rail that the schema can't see. */
export function checkRail(name: string, design: Design): Finding[] {
  const rail = design.rails[name];
  if (rail === undefined) return [];
  const path = ['rails', name];
  const { cooling } = rail;
  return [
    ...checkName(path, rail, design),
    ...(cooling === undefined
      ? missingCooling(path, rail)
      : checkCooling([...path, 'cooling'], cooling, design)),
    ...checkLoadOrder(path, rail.load, railNeed(rail, design)?.volts ?? NaN),
    ...checkDamageOrder(path, rail),
    ...checkRegulator(path, rail, design),
  ];
}

function checkName(path: readonly string[], { regulator }: Rail, design: Design): Finding[] {
  if (typeof regulator === 'object') return [];
  return checkPart([...path, 'regulator'], regulator, [...partsOf(design).regulators.keys()], 'a regulator');
}

function checkRegulator(path: readonly string[], rail: Rail, design: Design): Finding[] {
  const need = railNeed(rail, design);
  const origin = originOf(rail, design);
  // Where nothing feeds it, every other check speaks of the consequences.
  if (need === null || origin === null || !nodesOf(design).includes(origin)) return [];
  const part =
    typeof rail.regulator === 'string' ? partsOf(design).regulators.get(rail.regulator) : undefined;
  const wiring =
    part === undefined
      ? checkOther(path, rail)
      : [...checkPolarity(path, rail, part, design), ...checkResistors(path, rail, part)];
  if (wiring.length > 0) return wiring;
  if (checkDamageOrder(path, rail).length > 0) return [];
  const window = part === undefined ? checkWrittenVolts(path, rail, need) : checkSetVolts(path, rail, part);
  return window.length > 0 ? window : checkReach(path, rail, need, design);
}

/** A switching module and given volts are cooled by whatever they came with. */
function missingCooling(path: readonly string[], { regulator }: Rail): Finding[] {
  if (typeof regulator === 'object' && regulator.kind !== 'zener') return [];
  const allowed = 'cooling with heatsink';
  return [{ path: [...path, 'cooling'], found: '', allowed, sentence: `missing; ${allowed} is needed` }];
}

function checkDamageOrder(path: readonly string[], { damage }: Rail): Finding[] {
  if (damage.low === undefined || damage.high === undefined || damage.low < damage.high) return [];
  const allowed = `less than damage.high (${damage.high} V)`;
  return [
    {
      path: [...path, 'damage', 'low'],
      found: String(damage.low),
      allowed,
      sentence: `found ${damage.low}; ${allowed} is allowed`,
    },
  ];
}

function checkPolarity(path: readonly string[], rail: Rail, regulator: Regulator, design: Design): Finding[] {
  const polarity = polarityOf(rail, design);
  if (regulator.polarity === polarity) return [];
  const found = shown(regulator.name);
  const source = ['reservoir', 'filter', 'negative-reservoir'].includes(rail.from)
    ? `the ${rail.from}`
    : rail.from;
  const elsewhere =
    polarity === 'positive' && design.rectifier.kind === 'split-bridge'
      ? ', or from: negative-reservoir,'
      : polarity === 'negative' && originOf(rail, design) === rail.from
        ? ', or from: reservoir,'
        : '';
  const allowed = `a ${polarity} regulator${elsewhere}`;
  const sentence = `found ${found}, a ${regulator.polarity} regulator, but ${source} is ${polarity}; ${allowed} is allowed`;
  return [{ path: [...path, 'regulator'], found, allowed, sentence }];
}

function checkResistors(path: readonly string[], rail: Rail, { kind, name }: Regulator): Finding[] {
  const keys = ['r1', 'r2'] as const;
  if (kind === 'adjustable') {
    return keys
      .filter((key) => rail[key] === undefined)
      .map((key) => {
        const allowed =
          key === 'r1' ? 'ohms from output to adjust (240 is usual)' : 'ohms from adjust to ground';
        return {
          path: [...path, key],
          found: '',
          allowed,
          sentence: `missing; the ${name} is adjustable and needs ${allowed}`,
        };
      });
  }
  return withoutAdjustPin(
    path,
    rail,
    `the ${name} has a fixed output and no adjust pin`,
    'a fixed regulator',
  );
}

const OTHER_WORDS: Readonly<Record<OtherRegulator['kind'], string>> = {
  zener: 'a zener follower',
  switching: 'a switching module',
  given: 'a rail of given volts',
};

/** What isn't a part of the library: no adjust pin; a curve that rises; an input that can feed it. */
function checkOther(path: readonly string[], rail: Rail): Finding[] {
  const { regulator } = rail;
  if (typeof regulator !== 'object') return [];
  const what = OTHER_WORDS[regulator.kind];
  return [
    ...withoutAdjustPin(path, rail, `${what} has no adjust pin`, what),
    ...(regulator.kind === 'switching' ? checkModule([...path, 'regulator'], regulator) : []),
    ...(regulator.kind === 'zener' ? checkZener([...path, 'regulator'], regulator.zener_volts) : []),
  ];
}

function withoutAdjustPin(path: readonly string[], rail: Rail, why: string, what: string): Finding[] {
  return (['r1', 'r2', 'adjust_capacitor_uF'] as const)
    .filter((key) => rail[key] !== undefined)
    .map((key) => {
      const found = String(rail[key]);
      const sentence = `found ${found}, but ${why}; leave ${key} out`;
      return { path: [...path, key], found, allowed: `no ${key} with ${what}`, sentence };
    });
}

function checkModule(
  path: readonly string[],
  { efficiency, volts, minimum_input }: Extract<OtherRegulator, { kind: 'switching' }>,
): Finding[] {
  const findings: Finding[] = [];
  const falls = efficiency.findIndex(([amps], at) => at > 0 && amps <= (efficiency[at - 1]?.[0] ?? 0));
  if (falls > 0) {
    const found = `${efficiency[falls]?.[0] ?? 0} A after ${efficiency[falls - 1]?.[0] ?? 0} A`;
    const allowed = 'pairs with rising amps';
    const sentence = `found ${found}; ${allowed} are allowed`;
    findings.push({ path: [...path, 'efficiency', String(falls)], found, allowed, sentence });
  }
  if (minimum_input < volts) {
    const allowed = `at least its output (${volts} V), since a module that steps up isn't known here,`;
    const sentence = `found ${minimum_input}; ${allowed} is allowed`;
    findings.push({ path: [...path, 'minimum_input'], found: String(minimum_input), allowed, sentence });
  }
  return findings;
}

/** Below this the follower has nothing left to give. */
const LEAST_ZENER = 1.5;

function checkZener(path: readonly string[], zenerVolts: number): Finding[] {
  if (zenerVolts >= LEAST_ZENER) return [];
  const allowed = `${LEAST_ZENER} V or more, for the follower takes 0.65 V of it,`;
  const sentence = `found ${zenerVolts}; ${allowed} is allowed`;
  return [{ path: [...path, 'zener_volts'], found: String(zenerVolts), allowed, sentence }];
}
