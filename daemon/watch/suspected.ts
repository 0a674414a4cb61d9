import type { Draft } from './draft.js';
import type { SuspectsEvent } from './events.js';
import { weighRecognisedLoad } from './load-state.js';
import type { Suspect } from './suspects/judgement.js';

/** What the readings speak for now; told when another fault leads than before. */
export function takeSuspects(draft: Draft, event: SuspectsEvent): void {
  const before = leadingSuspect(draft.suspicion);
  draft.suspicion = event;
  const leading = leadingSuspect(event);
  weighRecognisedLoad(draft, event, leading);
  if (leading?.fault === before?.fault && leading?.about === before?.about) return;
  draft.tell({ kind: 'suspect', atMs: draft.atMs, leading });
}

/** The suspect that is more probable than everything else together, null without one. */
export function leadingSuspect(suspicion: SuspectsEvent | null): Suspect | null {
  const first = suspicion?.suspects[0];
  return first !== undefined && first.probability > 0.5 ? first : null;
}
