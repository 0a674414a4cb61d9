import type { InstrumentEvent } from '../../drivers/driver.js';
import type { OutputEvent } from '../../drivers/outputs/output.js';

/** Readings as `channel value unit`, marks in the place of the value. */
export function readingsOf(events: readonly InstrumentEvent[]): string[] {
  return events.flatMap((event) =>
    event.kind === 'reading' ? [`${event.channel} ${event.mark ?? event.value} ${event.unit}`] : [],
  );
}

/** Faults as `code: detail`. */
export function faultsOf(events: readonly (InstrumentEvent | OutputEvent)[]): string[] {
  return events.flatMap((event) => (event.kind === 'fault' ? [`${event.code}: ${event.detail}`] : []));
}

/** States in the order told. */
export function statesOf(events: readonly (InstrumentEvent | OutputEvent)[]): string[] {
  return events.flatMap((event) => (event.kind === 'state' ? [event.state] : []));
}
