import type { Draft } from './draft.js';
import type { CaptureEvent } from './events.js';
import { takeSignOfLife } from './instruments.js';
import { endSilence } from './silence.js';

/** A captured waveform: its channel has been heard. Channels that the plan doesn't name are not. */
export function takeCapture(draft: Draft, event: CaptureEvent): void {
  const at = draft.channelAt(event.instrument, event.channel);
  const before = draft.channels[at];
  if (before === undefined) return;
  takeSignOfLife(draft, event.instrument);
  const after = { ...before, lastAtMs: draft.atMs, stale: false };
  draft.setChannel(at, after);
  endSilence(draft, after);
}
