import { LOAD_STATES } from '../../daemon/design/design.js';
import { alarmGroup } from '../../daemon/watch/alarm-subject.js';
import type { AlarmEffect } from '../../daemon/watch/effects.js';
import { seededRandom } from '../../drivers/simulated/random.js';
import type { RunDesign } from './designs.js';
import { faultsOf, type RunFault } from './faults.js';
import { asking, chattering } from './measures.js';
import type { Equipment } from './meters.js';
import { Table } from './table.js';

const MINUTE_MS = 60_000;
const TEN_MINUTES_MS = 10 * MINUTE_MS;
const EQUIPMENT: readonly Equipment[] = ['volts-and-cases', 'with-ac-meter', 'with-scope'];

/** What came of one fault. */
export interface FaultedSession {
  readonly seed: number;
  readonly design: string;
  readonly equipment: Equipment;
  readonly fault: string;
  readonly about: string;
  /** Alarms that asked for their person before there was a fault. */
  readonly before: number;
  /** Seconds from the fault to the first alarm; null: none came. */
  readonly firstAfterS: number | null;
  readonly first: string | null;
  readonly namesCause: boolean;
  /** That asked for their person in the ten minutes after the fault. */
  readonly inTenMinutes: number;
  /** Raised in the ten minutes beside the first one, and how many of them another alarm explained. */
  readonly further: number;
  readonly explained: number;
  /** Whether each group of alarms had one first-up alarm and no other. */
  readonly oneFirstUp: boolean;
  readonly chattering: readonly string[];
  readonly alarms: readonly AlarmEffect[];
}

/** A fault and the design and table on which it comes. */
export interface FaultCase {
  readonly run: RunDesign;
  readonly fault: RunFault;
  readonly fromStart: boolean;
}

/** Every fault of every design, those that can in both ways: there from the switch-on, and coming while all is well. */
export function faultCases(designs: readonly RunDesign[]): readonly FaultCase[] {
  return designs.flatMap((run) =>
    faultsOf(run).flatMap((fault) =>
      (fault.fromStart ? [true, false] : [false]).map((fromStart) => ({ run, fault, fromStart })),
    ),
  );
}

/** One session: a quarter of an hour of healthy running where the fault comes later, then half an hour with it. */
export function faultedSession(
  { run, fault, fromStart }: FaultCase,
  seed: number,
  minutes = { healthy: 15, faulty: 30 },
): FaultedSession {
  const random = seededRandom(seed + 31);
  const allowed = fault.needs ?? EQUIPMENT;
  const equipment = allowed[Math.floor(allowed.length * random.uniform())]!;
  const load = fault.load ?? LOAD_STATES[Math.floor(3 * random.uniform())]!;
  const size = 0.6 + 0.4 * random.uniform();
  const table = new Table({ run, equipment, toldLoad: load, load, seed });
  table.pass(10_000);
  if (!fromStart) {
    table.power('on');
    table.pass(minutes.healthy * MINUTE_MS);
  }
  const struckAtMs = table.nowMs;
  fault.strike(table, size, load);
  if (fromStart) table.power('on');
  table.pass(minutes.faulty * MINUTE_MS);
  return {
    seed,
    design: run.name,
    equipment,
    fault: fault.name,
    about: fault.about,
    ...whatCame(table.alarms, struckAtMs, fault),
    alarms: table.alarms,
  };
}

function whatCame(
  alarms: readonly AlarmEffect[],
  struckAtMs: number,
  fault: RunFault,
): Pick<
  FaultedSession,
  | 'before'
  | 'firstAfterS'
  | 'first'
  | 'namesCause'
  | 'inTenMinutes'
  | 'further'
  | 'explained'
  | 'oneFirstUp'
  | 'chattering'
> {
  const first = asking(alarms, struckAtMs)[0];
  const endMs = struckAtMs + TEN_MINUTES_MS;
  const raised = alarms.filter(
    ({ change, atMs }) => change === 'raised' && atMs >= struckAtMs && atMs < endMs,
  );
  const further = [...new Set(raised.map(({ alarm }) => alarm.id))].filter((id) => id !== first?.alarm.id);
  const groups = [...new Set(raised.map(({ alarm }) => alarmGroup(alarm.cause)))];
  return {
    before: asking(alarms, 0, struckAtMs).length,
    firstAfterS: first === undefined ? null : (first.atMs - struckAtMs) / 1000,
    first: first?.alarm.id ?? null,
    namesCause: first !== undefined && fault.names(first.alarm.id),
    inTenMinutes: asking(alarms, struckAtMs, endMs).length,
    further: further.length,
    explained: further.filter((id) => isExplained(alarms, id, struckAtMs)).length,
    oneFirstUp: groups.every((group) => firstUps(raised, group) === 1),
    chattering: chattering(alarms),
  };
}

function isExplained(alarms: readonly AlarmEffect[], id: string, fromMs: number): boolean {
  return alarms.some(({ alarm, atMs }) => alarm.id === id && atMs >= fromMs && alarm.suppressedBy.length > 0);
}

/** Alarms of the group that were raised while no other of it stood. */
function firstUps(raised: readonly AlarmEffect[], group: string): number {
  const firsts = raised.filter(({ alarm }) => alarm.firstUp && alarmGroup(alarm.cause) === group);
  return new Set(firsts.map(({ alarm }) => alarm.id)).size;
}
