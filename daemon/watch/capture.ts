import { followCapture } from './capture-alarms.js';
import { captureCounts } from './capture-counts.js';
import type { Draft } from './draft.js';
import type { CaptureEvent } from './events.js';
import { takeSignOfLife } from './instruments.js';
import { takeReading } from './reading.js';
import { analyseRipple } from './ripple/analyse.js';
import type { RippleFound } from './ripple/ripple.js';
import { predictionOf } from './sample.js';
import { endSilence } from './silence.js';

/**
 * A captured waveform: its channel has been heard, and its ripple counts as a reading of the test point on which the
 * probe sat: peak-to-peak of the mains part, the valley or the mean. Channels that the plan doesn't name are not heard.
 */
export function takeCapture(draft: Draft, event: CaptureEvent): void {
  const at = draft.channelAt(event.instrument, event.channel);
  const before = draft.channels[at];
  if (before === undefined) return;
  takeSignOfLife(draft, event.instrument);
  const after = { ...before, lastAtMs: draft.atMs, stale: false };
  draft.setChannel(at, after);
  endSilence(draft, after);
  if (after.point === null || event.unit !== 'V') return;
  const { scale, offset, stepSeconds, coupling } = event;
  const ripple = analyseRipple(captureCounts(event), {
    scale,
    offset,
    stepSeconds,
    coupling,
    expectedHertz: null,
  });
  draft.tell({ kind: 'ripple', atMs: draft.atMs, point: after.point, ripple });
  followCapture(draft, after.point, ripple);
  if (ripple.kind !== 'found') return;
  const unit = predictionOf(draft.prediction, after.point)?.unit;
  if (unit !== 'Vpp' && unit !== 'V') return;
  const value = readingOf(after.point, ripple, unit);
  if (value === null) return;
  const { atMs, instrument, channel } = event;
  // Taken over many cycles that were found alike: it stands by itself.
  takeReading(draft, { kind: 'reading', atMs, instrument, channel, value, unit }, 'alone');
}

function readingOf(point: string, ripple: RippleFound, unit: 'Vpp' | 'V'): number | null {
  if (unit === 'Vpp') return ripple.peakToPeak;
  return point.endsWith('.valley') ? ripple.valley : ripple.mean;
}
