import type { EditValue } from '../design/edit-text.js';
import type { DesignProblem, SaveRequest, Saved } from './design-messages.js';

export type { DesignProblem as BenchProblem, EditValue, SaveRequest, Saved };

/** What the page and the daemon say about instruments and the bench file: JSON over HTTP at `/instruments/…`. */

/** GET `/instruments/open`: the bench that the running session has, as it stands in its file now. */
export interface OpenedBench {
  /** Null: it can only be saved under a new name. */
  readonly file: string | null;
  /** The folder that benches are saved to, for a person. */
  readonly folder: string;
  /** A name for a new file. */
  readonly suggested: string;
  readonly text: string;
  /** Says which content of the file this is; null without a file. */
  readonly version: string | null;
  readonly drivers: readonly DriverChoice[];
  readonly measurands: readonly string[];
  readonly points: readonly PointChoice[];
  /** What stands between a test point and an instrument, each with an example of how it is written. */
  readonly sensors: readonly SensorChoice[];
  /** A meter without a cable, ready to be added. */
  readonly byHand: InstrumentToAdd;
}

export interface DriverChoice {
  readonly name: string;
  /** Which devices it reads. */
  readonly reads: string;
  /** A person types its readings, so it has no link. */
  readonly isTyped: boolean;
}

export interface PointChoice {
  readonly id: string;
  /** What measures it directly; empty: nothing does. */
  readonly measurands: readonly string[];
}

export interface SensorChoice {
  readonly kind: string;
  readonly example: Readonly<Record<string, EditValue>>;
}

/** An instrument for the bench file. */
export interface InstrumentToAdd {
  readonly name: string;
  /** Stands beside it as a remark. */
  readonly about: string;
  readonly driver: string;
  readonly link: Readonly<Record<string, EditValue>> | null;
  readonly options: Readonly<Record<string, unknown>>;
  readonly channels: readonly ChannelToAdd[];
}

export interface ChannelToAdd {
  readonly name: string;
  readonly says: Readonly<Record<string, unknown>>;
  readonly about: string;
}

/** One change of a bench file. */
export type BenchEdit =
  /** A value at a path of keys; null takes it out. */
  | { readonly kind: 'set'; readonly path: readonly string[]; readonly value: EditValue | null }
  | { readonly kind: 'remove'; readonly instrument: string }
  /** An instrument's options as a person typed them, as YAML. */
  | { readonly kind: 'options'; readonly instrument: string; readonly typed: string }
  | { readonly kind: 'add'; readonly instrument: InstrumentToAdd }
  | { readonly kind: 'rename-instrument'; readonly instrument: string; readonly name: string }
  /** What a channel is called and measures, wherever the file says so: in its list or in the driver's options. */
  | {
      readonly kind: 'channel';
      readonly instrument: string;
      readonly channel: string;
      readonly name: string;
      readonly measures: string;
    };

/** POST `/instruments/preview`. */
export interface BenchRequest {
  readonly text: string;
  readonly edits: readonly BenchEdit[];
}

/** What a bench file says with the edits in it. */
export interface BenchPreview {
  readonly text: string;
  readonly instruments: readonly InstrumentForm[];
  /** Empty: a session can be started with it. */
  readonly problems: readonly DesignProblem[];
  /** Why an edit wasn't made; the text is as it was. */
  readonly refused: string | null;
}

export interface InstrumentForm {
  readonly name: string;
  readonly driver: string;
  readonly link: LinkForm | null;
  /** The pattern of a board that prints lines; null for everything else. */
  readonly pattern: string | null;
  /** All options as YAML on one line; empty for none. */
  readonly options: string;
  readonly channels: readonly ChannelForm[];
}

export interface LinkForm {
  readonly kind: 'serial' | 'usb' | 'usbtmc' | 'tcp';
  readonly place: string;
  /** Null where there is none. */
  readonly baud: number | null;
}

export interface ChannelForm {
  readonly name: string;
  /** Whether it stands in the list of channels; its driver's options name it otherwise. */
  readonly isListed: boolean;
  /** What the instrument sees, before any sensor. */
  readonly measures: string;
  /** The test point that it sits on at the start; null for none. */
  readonly at: string | null;
  /** Empty: nothing stands between. */
  readonly sensor: readonly LeafForm[];
  readonly accuracy: Readonly<Record<'percent' | 'counts' | 'resolution', number | null>>;
}

/** One value within a sensor's group, with its keys from the channel on. */
export interface LeafForm {
  readonly path: readonly string[];
  readonly value: string | number;
}

/** POST `/instruments/ports`: what is plugged in. Nothing is opened for it. */
export interface PortsView {
  readonly ports: readonly PortView[];
  /** Why the system doesn't tell; null when it does. */
  readonly why: string | null;
}

export interface PortView {
  readonly path: string;
  readonly kind: 'serial' | 'usbtmc';
  /** What is known of it: identity on the bus, maker, product; empty for nothing. */
  readonly about: string;
  /** The instrument of the running session that has it; null: it is free. */
  readonly heldBy: string | null;
}

/** POST `/instruments/listen`: opens a port, after a person pressed for it. Whatever was listened at before is let go. */
export interface ListenRequest {
  /** A device path, COM3, or host:port. */
  readonly port: string;
  readonly seconds: number;
}

/** POST `/instruments/listening`, and what `/instruments/listen` and `/instruments/hush` answer. */
export interface ListeningView {
  readonly port: string;
  readonly isOver: boolean;
  /** What is tried now; empty while it listens. */
  readonly tries: string;
  /** Bits per second that it was found with; null where there are none or while it isn't known. */
  readonly baud: number | null;
  readonly lines: readonly HeardView[];
  /** What was found, in words; empty so far. */
  readonly found: string;
  readonly proposal: InstrumentToAdd | null;
  /** Why the port wasn't opened; null when it was. */
  readonly why: string | null;
}

/** A line and what is read from it. */
export interface HeardView {
  readonly text: string;
  readonly readings: readonly ReadingView[];
}

export interface ReadingView {
  readonly channel: string;
  /** Null exactly when there is a mark. */
  readonly value: number | null;
  readonly unit: string;
  readonly mark: string | null;
}

/** POST `/instruments/heard`: the newest lines of an instrument of the running session. */
export interface HeardRequest {
  readonly instrument: string;
}

export interface HeardLines {
  /** Oldest first; null for an instrument without a cable. */
  readonly lines: readonly HeardView[] | null;
}

/** POST `/instruments/try`: reads lines with options for text-lines. */
export interface TryRequest {
  /** As a person typed it: a pattern. */
  readonly pattern: string;
  readonly lines: readonly string[];
}

export interface TriedLines {
  readonly lines: readonly HeardView[];
  /** What is wrong with the pattern; empty when nothing is. */
  readonly problem: string;
}

/** What answers the page about instruments. */
export interface InstrumentDesk {
  open(): Promise<OpenedBench>;
  preview(request: BenchRequest): Promise<BenchPreview>;
  ports(): Promise<PortsView>;
  listen(request: ListenRequest): Promise<ListeningView>;
  listening(): Promise<ListeningView | Record<string, never>>;
  hush(): Promise<ListeningView | Record<string, never>>;
  heard(request: HeardRequest): Promise<HeardLines>;
  try(request: TryRequest): Promise<TriedLines>;
  save(request: SaveRequest): Promise<Saved>;
  /** Lets go of a port that is listened at. */
  close(): Promise<void>;
}
