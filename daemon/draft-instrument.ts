import type { ChannelDraft, InstrumentDraft } from './bench-text.js';
import type { BenchLink } from './design/bench.js';
import type { Listened } from '../drivers/listen/listen.js';
import type { Place } from '../drivers/listen/place.js';
import { wholeLines } from '../drivers/listen/readable.js';
import { printable } from '../drivers/printable.js';
import type { ProposedNumber } from '../drivers/listen/proposal.js';
import type { Measurand } from '../drivers/driver.js';

const SHOWN_CHARACTERS = 60;
/** For a meter of which only its name is known. Its accuracy is in its manual. */
const FIRST_CHANNEL = 'volts';

/** What a bench file would say of what was heard there; null when nothing was understood. */
export function draftInstrument(place: Place, found: Listened): InstrumentDraft | null {
  const { judgement } = found;
  const link = linkTo(place, found);
  switch (judgement.kind) {
    case 'lines':
      return {
        name: 'board',
        about: `prints ${quoted(found.heard)}${doubtWords(judgement.proposal.numbers)}`,
        driver: 'text-lines',
        link,
        options: judgement.proposal.options,
        channels: [],
      };
    case 'lcd-frames':
      return {
        name: 'meter',
        about: 'sends what its display shows',
        driver: 'lcd-frames',
        link,
        options: {},
        channels: [
          channelThat(
            judgement.measures,
            'what its dial stands at; list a channel for each that you will use',
          ),
        ],
      };
    case 'scpi':
      return {
        name: 'meter',
        about: `answers ${printable(judgement.identity, SHOWN_CHARACTERS)}`,
        driver: 'scpi-meter',
        link,
        options: {},
        channels: [channelThat(null, 'a guess; say what it measures. A scope is driver: scpi-scope')],
      };
    case 'text':
    case 'silent':
    case 'garbled':
      return null;
  }
}

function channelThat(measures: Measurand | null, about: string): ChannelDraft {
  const name = measures ?? FIRST_CHANNEL;
  return { name, says: { measures: measures ?? 'dc-volts' }, isSure: measures !== null, about };
}

/** Which numbers were only guessed at; empty when all are sure. */
function doubtWords(numbers: readonly ProposedNumber[]): string {
  const unsure = numbers.filter(({ isSure }) => !isSure).map(({ name }) => name);
  return unsure.length === 0 ? '' : `; a guess: the unit of ${unsure.join(', ')}`;
}

/** The place with the settings that were found, as the bench file says it. */
function linkTo(place: Place, { baud, needsCablePower }: Listened): BenchLink {
  if (!('serial' in place)) return place;
  return {
    serial: place.serial,
    baud: baud ?? 9600,
    ...(needsCablePower && { dtr: 'on' as const, rts: 'off' as const }),
  };
}

function quoted(heard: Uint8Array): string {
  return printable(wholeLines(heard).lines.at(-1) ?? '', SHOWN_CHARACTERS);
}
