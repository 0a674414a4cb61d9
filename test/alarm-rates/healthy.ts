import { LOAD_STATES, type LoadState } from '../../daemon/design/design.js';
import type { AlarmEffect } from '../../daemon/watch/effects.js';
import type { RunDesign } from './designs.js';
import type { Equipment } from './meters.js';
import { Table } from './table.js';

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;
const EQUIPMENT: readonly Equipment[] = ['volts-and-cases', 'with-ac-meter', 'with-scope'];

/** What happened in one hour of a healthy supply at work. */
export interface HealthyHour {
  readonly seed: number;
  readonly design: string;
  readonly equipment: Equipment;
  readonly alarms: readonly AlarmEffect[];
}

/**
 * An hour from the switch-on: the load changes every few minutes, half of the times without a word where there is a
 * current to tell it by (without one a person has to say which load is on); the mains steps;
 * the meter's probe is moved to a rail and back; once the supply is switched off and on again.
 */
export function healthyHour(designs: readonly RunDesign[], seed: number): HealthyHour {
  const run = designs[seed % designs.length]!;
  const equipment = EQUIPMENT[Math.floor(seed / designs.length) % EQUIPMENT.length]!;
  const told = LOAD_STATES[seed % LOAD_STATES.length]!;
  const isSilent = equipment !== 'volts-and-cases';
  const load = isSilent && seed % 2 === 1 ? LOAD_STATES[(seed + 1) % LOAD_STATES.length]! : told;
  const table = new Table({ run, equipment, toldLoad: told, load, seed });
  table.pass(10_000);
  table.power('on');
  while (table.nowMs < HOUR_MS) {
    table.pass(MINUTE_MS * Math.round(2 + 6 * table.random.uniform()));
    happen(table, run, isSilent);
  }
  return { seed, design: run.name, equipment, alarms: table.alarms };
}

function happen(table: Table, run: RunDesign, isSilent: boolean): void {
  const chance = table.random.uniform();
  if (chance < 0.4) return changeLoad(table, !isSilent || table.random.uniform() < 0.5);
  if (chance < 0.65) return table.setMains(1 + 0.015 * (2 * table.random.uniform() - 1));
  if (chance < 0.85) return moveProbe(table, Object.keys(run.design.rails));
  table.power('off');
  table.pass(MINUTE_MS * (0.5 + 2 * table.random.uniform()));
  table.power('on');
}

/** A person who says so does it a few seconds before or after they switch. */
function changeLoad(table: Table, says: boolean): void {
  const load: LoadState = LOAD_STATES[Math.floor(3 * table.random.uniform())]!;
  const early = table.random.uniform() < 0.5;
  if (says && early) table.sayLoad(load);
  table.pass(1000 * Math.round(4 * table.random.uniform()));
  table.setLoad(load);
  table.pass(1000 * Math.round(4 * table.random.uniform()));
  if (says && !early) table.sayLoad(load);
}

/** The meter visits a rail for a minute; for some seconds its probe hangs in the air. */
function moveProbe(table: Table, rails: readonly string[]): void {
  const meter = table.meters[0]!;
  const rail = rails[Math.floor(rails.length * table.random.uniform())]!;
  table.moveProbe(meter, `${rail}.volts`);
  table.pass(MINUTE_MS);
  table.moveProbe(meter, 'reservoir.volts');
}
