import type { EditValue } from '../design/edit-text.js';
import type { FormGroup } from '../design/form.js';
import type { LoadState } from '../design/design.js';
import type { Advice, Assumption, Limit, PartFigures, PointUnit } from '../predict/prediction.js';

export type { EditValue, FormGroup, LoadState };
export type { FormField } from '../design/form-fields.js';
export type { FormChoice } from '../design/form-choices.js';

/** What the page and the daemon say about a design that is being written: JSON over HTTP at `/design/…`. */

/** GET `/design/open`: the design that the running session watches, as it stands in its file now. */
export interface OpenedDesign {
  /** Null: it can only be saved under a new name. */
  readonly file: string | null;
  /** The folder that designs are saved to, for a person. */
  readonly folder: string;
  readonly text: string;
  /** Says which content of the file this is; null without a file. */
  readonly version: string | null;
  readonly load: LoadState;
}

/** A value to write at a path of keys; null takes it out. */
export interface DesignEdit {
  readonly path: readonly string[];
  readonly value: EditValue | null;
}

/** POST `/design/preview`. */
export interface PreviewRequest {
  readonly text: string;
  readonly edits: readonly DesignEdit[];
  readonly load: LoadState;
  /** `quick`: bands from few draws, for while a person types; `full`: as a session has them. */
  readonly draws: 'quick' | 'full';
}

/** What a design says and what comes of it. */
export interface DesignPreview {
  /** With the edits in it. */
  readonly text: string;
  readonly form: readonly FormGroup[];
  /** Empty: the design is complete and right, and there is a prediction unless its circuit has no steady state. */
  readonly problems: readonly DesignProblem[];
  readonly prediction: DesignPrediction | null;
}

export interface DesignProblem {
  /** In the text, from 1. */
  readonly line: number;
  /** Dotted; empty for the design as a whole. */
  readonly key: string;
  readonly words: string;
}

export interface DesignPrediction {
  readonly load: LoadState;
  readonly draws: PreviewRequest['draws'];
  readonly points: readonly PredictedPoint[];
  readonly parts: Readonly<Record<string, PartFigures>>;
  readonly advice: readonly AdviceView[];
  readonly assumed: readonly Assumption[];
}

export interface PredictedPoint {
  readonly id: string;
  readonly label: string;
  readonly unit: PointUnit;
  readonly low: number;
  readonly typical: number;
  readonly high: number;
  readonly limits: readonly Limit[];
}

export interface AdviceView extends Pick<
  Advice,
  'finding' | 'about' | 'severity' | 'sentence' | 'reason' | 'cure'
> {
  readonly cures: readonly CureView[];
}

export interface CureView {
  readonly words: string;
  readonly worsens: readonly string[];
  readonly changes: readonly ChangeView[];
}

/** One value that a cure writes, with what stands there now (null: nothing). */
export interface ChangeView extends DesignEdit {
  readonly key: string;
  readonly before: string | null;
  readonly after: string;
}

/** POST `/design/begin`: what a person says of a supply without a file, as typed; empty takes what is usual. */
export interface BeginRequest {
  readonly name: string;
  readonly mains: string;
  readonly volts: string;
  readonly va: string;
  readonly capacity_uF: string;
  readonly rails: readonly RailAnswers[];
}

export interface RailAnswers {
  readonly name: string;
  readonly volts: string;
  readonly full: string;
}

/** POST `/design/rail`: one more rail for a design that is right so far. */
export interface RailRequest extends RailAnswers {
  readonly text: string;
}

/** A design's text, or what was wrong with the answers, by field (`volts`, `rails.1.volts`). */
export type Begun =
  | { readonly text: string; readonly complaints: null }
  | { readonly text: null; readonly complaints: Readonly<Record<string, string>> };

/** POST `/design/save`. */
export interface SaveRequest {
  readonly text: string;
  /** The name of a file in the folder. */
  readonly file: string;
  /** The content that it replaces; null for a new file. */
  readonly version: string | null;
}

/** The file as it is now, or why nothing was written. */
export type Saved =
  | { readonly file: string; readonly version: string; readonly why: null }
  | { readonly file: null; readonly version: null; readonly why: string };

/** What answers the page about designs. */
export interface DesignDesk {
  open(): Promise<OpenedDesign>;
  preview(request: PreviewRequest): Promise<DesignPreview>;
  begin(request: BeginRequest): Promise<Begun>;
  rail(request: RailRequest): Promise<Begun>;
  save(request: SaveRequest): Promise<Saved>;
}
