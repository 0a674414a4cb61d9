import { Document, visit } from 'yaml';
import type { BenchInstrument, BenchLink } from './design/bench.js';

/** One instrument of a bench file that is being written. */
export interface InstrumentDraft {
  readonly name: string;
  /** What stands beside it as a comment. */
  readonly about: string;
  readonly driver: string;
  /** Nothing for one that is read by hand. */
  readonly link?: BenchLink;
  readonly options: Readonly<Record<string, unknown>>;
  readonly channels: readonly ChannelDraft[];
}

export interface ChannelDraft {
  readonly name: string;
  readonly says: Pick<BenchInstrument['channels'][string], 'measures' | 'at'>;
  /** False when what it measures is only a first guess. */
  readonly isSure: boolean;
  /** What stands beside it as a comment; empty for none. */
  readonly about: string;
}

/** What is written of an instrument; a draft, or more than a draft has. */
export interface WrittenInstrument extends Omit<InstrumentDraft, 'link' | 'channels'> {
  readonly link?: object;
  readonly channels: readonly {
    readonly name: string;
    readonly says: object;
    readonly about: string;
  }[];
}

/** The text of a bench file with its comments. */
export function benchText(title: string, drafts: readonly InstrumentDraft[]): string {
  return [
    '# Which instruments are on the table, and how they are joined.',
    `bench: ${inline(title)}`,
    'instruments:',
    ...drafts.flatMap(instrumentLines).map((line) => `  ${line}`),
    '',
  ].join('\n');
}

/** An instrument's lines within the group of instruments, not moved in. */
export function instrumentLines(draft: WrittenInstrument): string[] {
  const { name, about, driver, link, options, channels } = draft;
  return [
    `${name}:${comment(about)}`,
    `  driver: ${inline(driver)}`,
    ...(link === undefined ? [] : [`  link: ${inline(link)}`]),
    ...(Object.keys(options).length === 0 ? [] : [`  options: ${inline(options)}`]),
    ...(channels.length === 0 ? [] : ['  channels:']),
    ...channels.map(
      (channel) => `    ${inline(channel.name)}: ${inline(channel.says)}${comment(channel.about)}`,
    ),
  ];
}

function comment(text: string): string {
  return text === '' ? '' : ` # ${text}`;
}

/** A value on one line. */
function inline(value: unknown): string {
  const document = new Document(value);
  visit(document, { Collection: (_, node) => void (node.flow = true) });
  return document.toString({ lineWidth: 0, singleQuote: true }).trim();
}
