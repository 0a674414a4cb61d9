import type { PointPrediction, PointUnit } from '../../../daemon/predict/prediction.js';
import { systemDisk, type Disk } from '../../../daemon/record/disk.js';
import { openRecording, type Recording } from '../../../daemon/record/writer.js';
import type { WatchEvent } from '../../../daemon/watch/events.js';
import type { WatchPlan } from '../../../daemon/watch/plan.js';
import { manualClock } from '../../manual-clock.js';
import { normalNoise, uniformNoise } from '../watch/random.js';
import { HEADER } from './signal-cabin.js';

interface Source {
  readonly channel: string;
  readonly point: string;
  readonly unit: PointUnit;
  readonly settled: number;
  /** One step of the display. */
  readonly resolution: number;
}

/** Eight of the cabin's test points, each with a meter of its own. */
export const SOURCES: readonly Source[] = [
  { channel: 'a', point: 'reservoir.volts', unit: 'V', settled: 19.8, resolution: 0.01 },
  { channel: 'b', point: 'lamps.volts', unit: 'V', settled: 12.02, resolution: 0.001 },
  { channel: 'c', point: 'logic.volts', unit: 'V', settled: 5.01, resolution: 0.001 },
  { channel: 'd', point: 'lamps.amps', unit: 'A', settled: 0.41, resolution: 0.001 },
  { channel: 'e', point: 'lamps.case', unit: 'degC', settled: 61, resolution: 0.1 },
  { channel: 'f', point: 'logic.case', unit: 'degC', settled: 54, resolution: 0.1 },
  { channel: 'g', point: 'reservoir.case', unit: 'degC', settled: 33, resolution: 0.1 },
  { channel: 'h', point: 'cabinet.air', unit: 'degC', settled: 27, resolution: 0.1 },
];

const WARM_AFTER_MS = 600_000;
const AMBIENT = 21;

export const LONG_PLAN: WatchPlan = {
  prediction: {
    points: Object.fromEntries(SOURCES.map((source) => [source.point, prediction(source)])),
    parts: {},
    advice: [],
    assumed: [],
    load: 'full',
    seed: 1,
  },
  channels: SOURCES.map(({ channel, resolution }) => ({
    instrument: 'logger',
    channel,
    intervalMs: 1000,
    accuracy: { percent: 0.5, counts: 2, resolution },
  })),
};

function prediction({ point, unit, settled }: Source): PointPrediction {
  const [low, high] = [settled * 0.9, settled * 1.1];
  return {
    id: point,
    label: point,
    unit,
    nominal: settled,
    low,
    typical: settled,
    high,
    worst: { low, high },
    widthFrom: [],
    limits: [{ kind: 'rating', side: 'high', value: settled * 1.6, why: 'what the part stands' }],
    formula: 'given',
  };
}

/** A warm-up with the noise of a display's last digit; ticks as the session makes them. Same seed, same events. */
export function* longEvents(seconds: number, perSecond: number, seed: number): Generator<WatchEvent> {
  const noise = normalNoise(seed);
  const uniform = uniformNoise(seed + 1);
  for (const { channel, point } of SOURCES) {
    yield { kind: 'probe', atMs: 0, instrument: 'logger', channel, point };
  }
  const stepMs = 1000 / perSecond;
  let nextTickMs = 0;
  for (let beginMs = 0; beginMs < seconds * 1000; beginMs += stepMs) {
    for (; nextTickMs <= beginMs; nextTickMs += 250) yield { kind: 'tick', atMs: nextTickMs };
    // A poll takes a few milliseconds, never quite the same.
    let atMs = Math.round(beginMs);
    for (const source of SOURCES) {
      atMs += uniform() < 0.3 ? 1 : 0;
      const value = valueOf(source, atMs, noise());
      yield {
        kind: 'reading',
        atMs,
        instrument: 'logger',
        channel: source.channel,
        value,
        unit: source.unit,
      };
    }
  }
}

function valueOf({ unit, settled, resolution }: Source, atMs: number, noise: number): number {
  const share = 1 - Math.exp(-atMs / WARM_AFTER_MS);
  const middle = unit === 'degC' ? AMBIENT + (settled - AMBIENT) * share : settled;
  return Number((Math.round(middle / resolution + noise) * resolution).toFixed(3));
}

/** The disk without waiting for it: what is measured or tested then isn't the disk. */
export const UNSYNCED_DISK: Disk = {
  ...systemDisk,
  create: async (path) => ({ ...(await systemDisk.create(path)), sync: () => Promise.resolve() }),
};

/** Records events as a session does, with a write for every 750 ms of its time; resolves with the file. */
export async function recordEvents(
  folder: string,
  events: Iterable<WatchEvent>,
  disk: Disk = UNSYNCED_DISK,
): Promise<string> {
  const recording = await openRecording({
    folder,
    name: 'long',
    header: { ...HEADER, plan: LONG_PLAN },
    onTrouble: (why) => {
      throw new Error(why);
    },
    onWell: () => undefined,
    onLittleRoom: () => undefined,
    disk,
    wall: manualClock(),
    partBytes: Infinity,
  });
  await appendAll(recording, events);
  return recording.file ?? '';
}

async function appendAll(recording: Recording, events: Iterable<WatchEvent>): Promise<void> {
  let flushedMs = 0;
  let lastMs = 0;
  for (const event of events) {
    lastMs = event.atMs;
    if (lastMs - flushedMs >= 750) {
      flushedMs = lastMs;
      await recording.flush();
    }
    recording.append(event);
  }
  await recording.close(lastMs);
}
