import type { Measurand } from '../driver.js';
import { readDisplay } from '../lcd-frames/display.js';
import { FrameReader } from '../lcd-frames/frame-reader.js';
import { FOURTEEN_BYTE } from '../lcd-frames/frames/fourteen-byte.js';
import type { FoundUnit } from './ask-bus.js';
import type { FoundScope } from './ask-scope.js';
import { proposeJson } from './propose-json.js';
import type { LineProposal } from './proposal.js';
import { proposePattern } from './propose-pattern.js';
import { proposeTable } from './propose-table.js';
import { readsWell, wholeLines } from './readable.js';
import { tryLines, type Trial } from './try-lines.js';

/** What speaks at a port. */
export type Judgement =
  | { readonly kind: 'silent' }
  /** Lines of text that text-lines reads like this. */
  | {
      readonly kind: 'lines';
      readonly proposal: LineProposal;
      readonly trial: Trial;
      /** Lines that came before the first that is read: what a board prints that restarts when its port opens. */
      readonly greeting: readonly string[];
    }
  /** Lines of text without a number that could be a reading. */
  | { readonly kind: 'text' }
  /** A meter that sends what its display shows; what it measures now, null when that isn't told. */
  | { readonly kind: 'lcd-frames'; readonly measures: Measurand | null }
  /** It answered `*IDN?`. `scope` when it answers what scopes are asked. */
  | { readonly kind: 'scpi'; readonly identity: string; readonly scope: FoundScope | null }
  /** It answered when a register was read. */
  | { readonly kind: 'modbus'; readonly unit: FoundUnit }
  | { readonly kind: 'garbled' };

const FEWEST_FRAMES = 2;
/** At least half of the lines must be read: boards greet, and print other things too. */
const SHARE_READ = 0.5;

/** Says what was heard. Bytes are from one speed; the first line may lack its beginning. */
export function judge(bytes: Uint8Array): Judgement {
  if (bytes.length === 0) return { kind: 'silent' };
  const frames = framesIn(bytes);
  if (frames !== null) return { kind: 'lcd-frames', measures: frames.measures };
  if (!readsWell(bytes)) return { kind: 'garbled' };
  const { first, lines } = wholeLines(bytes);
  const proposals = [proposeJson(lines), proposeTable(first, lines), proposePattern(lines)];
  const tried = proposals
    .filter((proposal) => proposal !== null)
    .map((proposal) => ({ kind: 'lines' as const, proposal, trial: tryLines(proposal, lines) }))
    .filter(({ trial }) => trial.read > 0 && trial.read >= SHARE_READ * trial.of);
  const best = tried[0];
  return best === undefined ? { kind: 'text' } : { ...best, greeting: greetingIn(best.proposal, lines) };
}

function greetingIn(proposal: LineProposal, lines: readonly string[]): readonly string[] {
  const first = lines.findIndex((line) => tryLines(proposal, [line]).read > 0);
  return lines.slice(0, Math.max(0, first));
}

/** Frames of a display, and what the newest measures; null when most of the bytes are none. */
function framesIn(bytes: Uint8Array): { readonly measures: Measurand | null } | null {
  let frames = 0;
  let measures: Measurand | null = null;
  const reader = new FrameReader(FOURTEEN_BYTE.bytes, {
    onFrame(frame) {
      frames += 1;
      const shown = readDisplay(frame, FOURTEEN_BYTE);
      measures = 'measures' in shown ? shown.measures : null;
    },
    onTorn: () => undefined,
  });
  reader.push(bytes, 0);
  const isMost = frames * FOURTEEN_BYTE.bytes >= bytes.length / 2;
  return frames >= FEWEST_FRAMES && isMost ? { measures } : null;
}
