import type { ChannelDraft, InstrumentDraft } from './bench-text.js';
import type { BenchLink } from './design/bench.js';
import type { Listened } from '../drivers/listen/listen.js';
import type { Place } from '../drivers/listen/place.js';
import { wholeLines } from '../drivers/listen/readable.js';
import { printable } from '../drivers/printable.js';
import type { FoundUnit } from '../drivers/listen/ask-bus.js';
import type { FoundScope } from '../drivers/listen/ask-scope.js';
import { UNSURE, type ProposedNumber } from '../drivers/listen/proposal.js';
import type { Measurand } from '../drivers/driver.js';

const SHOWN_CHARACTERS = 60;
/** For a meter of which only its name is known. Its accuracy is in its manual. */
const FIRST_CHANNEL = 'volts';
/** For a MODBUS device of which only its unit is known. */
const REGISTER = { name: 'value', measures: UNSURE } as const;

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
      if (judgement.scope !== null) return scopeDraft(judgement.identity, judgement.scope, link);
      return {
        name: 'meter',
        about: `answers ${printable(judgement.identity, SHOWN_CHARACTERS)}`,
        driver: 'scpi-meter',
        link,
        options: {},
        channels: [channelThat(null, 'a guess; say what it measures')],
      };
    case 'modbus':
      return busDraft(judgement.unit, link);
    case 'text':
    case 'silent':
    case 'garbled':
      return null;
  }
}

/** What such a draft's numbers are, for asking where each sits; empty where its channels say so. */
export function numbersOf({ judgement }: Listened): readonly ProposedNumber[] {
  if (judgement.kind === 'lines') return judgement.proposal.numbers;
  if (judgement.kind === 'modbus') return [{ ...REGISTER, isSure: false }];
  if (judgement.kind !== 'scpi' || judgement.scope === null) return [];
  return judgement.scope.inputs.map((input) => ({
    name: inputName(input),
    measures: 'dc-volts',
    isSure: true,
  }));
}

function scopeDraft(identity: string, { dialect, inputs }: FoundScope, link: BenchLink): InstrumentDraft {
  return {
    name: 'scope',
    about: `answers ${printable(identity, SHOWN_CHARACTERS)}`,
    driver: 'scpi-scope',
    link,
    options: { dialect, inputs: Object.fromEntries(inputs.map((input) => [inputName(input), input])) },
    channels: [],
  };
}

function inputName(input: number): string {
  return `input-${input}`;
}

/** Where its values stand is in its manual alone. */
function busDraft({ unit, read }: FoundUnit, link: BenchLink): InstrumentDraft {
  const { name: channel, measures } = REGISTER;
  return {
    name: 'bus',
    about: `answers as MODBUS unit ${unit}; the register is a guess: its manual says where what stands`,
    driver: 'modbus-rtu',
    link,
    options: { registers: [{ channel, unit, read, address: 0, type: 'uint16', measures }] },
    channels: [],
  };
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
function linkTo(place: Place, { baud, hasEvenParity, needsCablePower }: Listened): BenchLink {
  if (!('serial' in place)) return place;
  return {
    serial: place.serial,
    baud: baud ?? 9600,
    ...(hasEvenParity && { parity: 'even' as const }),
    ...(needsCablePower && { dtr: 'on' as const, rts: 'off' as const }),
  };
}

function quoted(heard: Uint8Array): string {
  return printable(wholeLines(heard).lines.at(-1) ?? '', SHOWN_CHARACTERS);
}
