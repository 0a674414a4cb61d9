import type { InstrumentEvent } from '../driver.js';
import { readingMaker } from '../reading-of.js';
import type { Block } from './blocks.js';
import { BusLine, type Answer, type BusSurroundings } from './bus-line.js';
import type { Talk } from './bus-talk.js';
import { askLast, askSeparately, doubt, nextUnit, type BusUnit } from './bus-unit.js';
import { exceptionInWords, isAboutRegisters } from './exceptions.js';
import { markOf, rawNumber, scaled } from './register-values.js';
import { settle } from './settle.js';

export interface SessionSurroundings extends BusSurroundings {
  readonly emit: (event: InstrumentEvent) => void;
}

/** A unit in doubt is tried this often, so that one that wakes up is read again within two seconds. */
const RETRY_MS = 1000;

/** What is asked during one connection: unit by unit, each when its time has come. */
export class BusSession {
  readonly #around: SessionSurroundings;
  readonly #line: BusLine;

  constructor(around: SessionSurroundings) {
    this.#around = around;
    this.#line = new BusLine(around);
  }

  /** Ends at once when there is nobody to ask. */
  *script(): Talk<void> {
    const { clock, units } = this.#around;
    for (;;) {
      const unit = nextUnit(units, clock.nowMs());
      if (unit === undefined) return;
      if (unit.dueMs > clock.nowMs()) yield { untilMs: unit.dueMs, orBytes: false };
      else yield* this.#attend(unit);
    }
  }

  /** One turn of one unit: out of doubt if need be, then all its blocks. */
  *#attend(unit: BusUnit): Talk<void> {
    const { clock, settings, states, units } = this.#around;
    const startMs = clock.nowMs();
    const wasInDoubt = unit.inDoubt;
    const isRetry = wasInDoubt && unit.markers !== 'new';
    const isTrusted = !wasInDoubt || (yield* settle(unit, this.#line));
    unit.isRead = isTrusted && (yield* this.#readAll(unit));
    const retryMs = Math.min(RETRY_MS, settings.intervalMs);
    if (!unit.inDoubt) unit.dueMs = startMs + settings.intervalMs;
    else unit.dueMs = isRetry ? startMs + retryMs : clock.nowMs();
    if (!units.some(({ isRead }) => isRead)) states.notReading(`unit ${unit.unit} gives no reading`);
  }

  /** Whether a reading came. Ends at the first answer that isn't clean. */
  *#readAll(unit: BusUnit): Talk<boolean> {
    let isRead = false;
    for (const block of unit.blocks) {
      yield* this.#line.awaitSilence();
      if (unit.inDoubt) break;
      const answer = yield* this.#line.ask(unit, block.request, 'registers');
      if (answer === null) {
        doubt(unit);
        askLast(unit, block);
        break;
      }
      if (answer.frame.exception === null) {
        this.#emitReadings(block, answer);
        isRead = true;
      } else this.#refused(unit, block, answer.frame.exception);
    }
    return isRead;
  }

  #emitReadings({ request, registers }: Block, { frame, atMs }: Answer): void {
    this.#around.states.reading();
    for (const register of registers) {
      const at = 2 * (register.address - request.address);
      const raw = rawNumber(frame.data, at, register.type, register.order);
      const value = scaled(raw, register.scale, register.offset);
      this.#around.emit(readingMaker(register)(value, markOf(raw), atMs));
    }
  }

  #refused(unit: BusUnit, block: Block, exception: number): void {
    const channels = block.registers.map(({ name }) => name).join(', ');
    const { address } = block.request;
    this.#around.faults.count(
      'instrument-error',
      `unit ${unit.unit} refuses ${channels} from address ${address}: ${exceptionInWords(exception)}`,
    );
    if (isAboutRegisters(exception) && block.registers.length > 1) askSeparately(unit, block);
  }
}
