import { checkPart } from './check-part.js';
import { checkReach, checkSetVolts } from './check-set-volts.js';
import type { Design, Rail } from './design.js';
import { shown, type Finding } from './file-problems.js';
import { INTERFACES } from './parts/interfaces.js';
import { PACKAGES } from './parts/packages.js';
import { REGULATORS, type Regulator } from './parts/regulators.js';

/** Everything about one rail that the schema can't see. */
export function checkRail(name: string, design: Design): Finding[] {
  const rail = design.rails[name];
  if (rail === undefined) return [];
  const path = ['rails', name];
  const { cooling } = rail;
  const regulator = REGULATORS.get(rail.regulator);
  return [
    ...checkPart([...path, 'regulator'], rail.regulator, [...REGULATORS.keys()], 'a regulator'),
    ...checkPart([...path, 'cooling', 'package'], cooling.package, [...PACKAGES.keys()], 'a package'),
    ...checkPart(
      [...path, 'cooling', 'interface'],
      cooling.interface,
      [...INTERFACES.keys()],
      'an interface',
    ),
    ...checkLoad(path, rail),
    ...checkDamageOrder(path, rail),
    ...(regulator === undefined ? [] : checkRegulator(path, rail, regulator, design)),
  ];
}

function checkRegulator(
  path: readonly string[],
  rail: Rail,
  regulator: Regulator,
  design: Design,
): Finding[] {
  const wiring = [...checkPolarity(path, regulator), ...checkResistors(path, rail, regulator)];
  if (wiring.length > 0) return wiring;
  if (checkDamageOrder(path, rail).length > 0) return [];
  const window = checkSetVolts(path, rail, regulator);
  return window.length > 0 ? window : checkReach(path, rail, regulator, design);
}

function checkLoad(path: readonly string[], { load }: Rail): Finding[] {
  const steps = [
    ['typical', 'idle'],
    ['full', 'typical'],
  ] as const;
  return steps
    .filter(([more, less]) => load[more] < load[less])
    .map(([more, less]) => {
      const allowed = `at least the ${less} amps (${load[less]})`;
      return {
        path: [...path, 'load', more],
        found: String(load[more]),
        allowed,
        sentence: `found ${load[more]}; ${allowed} is allowed`,
      };
    });
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

function checkPolarity(path: readonly string[], regulator: Regulator): Finding[] {
  if (regulator.polarity === 'positive') return [];
  const found = shown(regulator.name);
  const allowed = 'a positive regulator';
  const sentence = `found ${found}, a negative regulator, but the reservoir is positive; ${allowed} is allowed`;
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
  return [...keys, 'adjust_capacitor_uF' as const]
    .filter((key) => rail[key] !== undefined)
    .map((key) => {
      const found = String(rail[key]);
      const sentence = `found ${found}, but the ${name} has a fixed output and no adjust pin; leave ${key} out`;
      return { path: [...path, key], found, allowed: `no ${key} with a fixed regulator`, sentence };
    });
}
