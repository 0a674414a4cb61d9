import { separately, type Block } from './blocks.js';
import type { Pending } from './pending.js';

/** One device on the line: what it is asked, when next, and what of it may still come. */
export interface BusUnit {
  readonly unit: number;
  /** In the order in which they are asked. */
  blocks: Block[];
  dueMs: number;
  /** Whether its latest turn brought a reading. */
  isRead: boolean;
  /** What has been asked and not been answered, oldest first. */
  pending: readonly Pending[];
  /** Whether the latest question was answered well. Before the first one nothing is known. */
  inDoubt: boolean;
  /** How often it was tried to end this doubt. */
  tries: number;
  /** How many markers were asked. */
  serial: number;
  /** Whether it answers markers; see settle.ts. `new` until it was asked one. */
  markers: 'new' | 'unknown' | 'heeded' | 'ignored';
}

export function busUnits(blocks: readonly Block[]): readonly BusUnit[] {
  const numbers = [...new Set(blocks.map(({ request }) => request.unit))];
  return numbers.map((unit) => ({
    unit,
    blocks: blocks.filter(({ request }) => request.unit === unit),
    dueMs: 0,
    isRead: false,
    pending: [],
    inDoubt: true,
    tries: 0,
    serial: 0,
    markers: 'new',
  }));
}

/** A new connection: perhaps to other devices. What was asked over the last one may still be answered. */
export function startAnew(unit: BusUnit, nowMs: number): void {
  unit.dueMs = nowMs;
  unit.isRead = false;
  unit.markers = 'new';
  unit.inDoubt = true;
  unit.tries = 0;
}

/** From now on it has to prove that it is in step before its answers are taken. */
export function doubt(unit: BusUnit): void {
  if (!unit.inDoubt) unit.tries = 0;
  unit.inDoubt = true;
}

/** How long trusted units go before one in doubt, whose silence costs a time-out. */
const PRECEDENCE_MS = 1000;

/**
 * Who is asked next: the one whose time came first, or will come first. A unit in doubt lets trusted ones go before
 * it for a while, so that several dead ones don't hold up the line.
 */
export function nextUnit(units: readonly BusUnit[], nowMs: number): BusUnit | undefined {
  const due = units.filter(({ dueMs }) => dueMs <= nowMs);
  const rank = (unit: BusUnit): number => unit.dueMs + (due.length > 0 && unit.inDoubt ? PRECEDENCE_MS : 0);
  return (due.length > 0 ? due : units).toSorted((a, b) => rank(a) - rank(b))[0];
}

/** Asks this block last from now on, so that one that is never answered doesn't keep the others from being asked. */
export function askLast(unit: BusUnit, block: Block): void {
  unit.blocks = [...unit.blocks.filter((other) => other !== block), block];
}

/** Asks for this block's registers one by one from now on. */
export function askSeparately(unit: BusUnit, block: Block): void {
  unit.blocks = unit.blocks.flatMap((other) => (other === block ? separately(block) : [other]));
}
