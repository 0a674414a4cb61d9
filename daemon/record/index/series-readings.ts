import type { ProbeEvent, ReadingEvent } from '../../watch/events.js';
import type { ProbePlaces } from '../export/probe-places.js';
import type { Bucket } from '../session/decimator.js';
import type { Series, Stretch } from './overview.js';
import { evenStretches } from './stretches.js';

interface Target {
  readonly series: Series;
  readonly into: ReturnType<typeof evenStretches>;
}

/** Sorts readings that go by into the series that are wanted, in equal parts of a stretch. */
export class SeriesReadings {
  readonly #places: ProbePlaces;
  readonly #targets: readonly Target[];
  /** By instrument, then channel: where its readings go now, null for nowhere. Emptied when a probe moves. */
  #now = new Map<string, Map<string, Target | null>>();

  /** @param places where the probes sat before the first reading */
  constructor(wanted: readonly Series[], stretch: Stretch, places: ProbePlaces) {
    this.#places = places;
    this.#targets = wanted.map((series) => ({ series, into: evenStretches(stretch) }));
  }

  move(probe: ProbeEvent): void {
    this.#places.move(probe);
    this.#now = new Map();
  }

  take(reading: ReadingEvent): void {
    if (reading.value === null) return;
    const known = this.#now.get(reading.instrument)?.get(reading.channel);
    const target = known === undefined || known?.series.unit !== reading.unit ? this.#find(reading) : known;
    target?.into.add(reading.atMs, reading.value);
  }

  /** In the order in which the series were wanted. */
  buckets(): readonly (readonly Bucket[])[] {
    return this.#targets.map(({ into }) => into.buckets());
  }

  #find(reading: ReadingEvent): Target | null {
    const { instrument, channel, unit } = reading;
    const point = this.#places.of(reading);
    const target =
      this.#targets.find(
        ({ series }) =>
          series.channel === channel &&
          series.instrument === instrument &&
          series.unit === unit &&
          series.point === point,
      ) ?? null;
    const ofInstrument = this.#now.get(instrument) ?? new Map<string, Target | null>();
    this.#now.set(instrument, ofInstrument.set(channel, target));
    return target;
  }
}
