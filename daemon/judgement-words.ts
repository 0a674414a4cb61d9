import type { Judgement } from '../drivers/listen/judge.js';
import { printable } from '../drivers/printable.js';

const SHOWN_CHARACTERS = 60;

/** What was found, and what to do. */
export function judgementWords(judgement: Judgement): string {
  switch (judgement.kind) {
    case 'lines': {
      const { read, of } = judgement.trial;
      const { format } = judgement.proposal.options;
      const how = typeof format === 'string' ? format.toUpperCase() : 'a pattern';
      const unsure = judgement.proposal.numbers.filter(({ isSure }) => !isSure).map(({ name }) => name);
      const doubt =
        unsure.length === 0
          ? ''
          : ` Nothing says what ${unsure.join(', ')} ${unsure.length === 1 ? 'measures' : 'measure'}; that is a guess.`;
      return `lines for text-lines with ${how}, ${read} of ${of} read.${greetingWords(judgement.greeting)}${doubt} Write test points (logic.case) for the names in braces.`;
    }
    case 'text':
      return 'text without a number that could be a reading. Wait until the board prints its values, and listen longer.';
    case 'lcd-frames':
      return 'frames of a display, for lcd-frames. Check its number against the display before you trust it.';
    case 'scpi': {
      const { identity, scope } = judgement;
      const answers = `answers "${identity}"`;
      return scope === null
        ? `${answers}, so scpi-meter talks to it. A scope whose dialect is not known here is scpi-scope with its dialect written out.`
        : `${answers} and what a scope of the dialect ${scope.dialect} is asked, so scpi-scope reads its captures.`;
    }
    case 'modbus': {
      const { unit, hasRegister, read } = judgement.unit;
      const said = hasRegister ? `with its first ${read} register` : 'that it has no register 0';
      return `answers as MODBUS unit ${unit} ${said}, so modbus-rtu reads it. Write its registers from its manual.`;
    }
    case 'silent':
      return 'silent: no answer to *IDN?, nor as MODBUS unit 1, 2 or 3. Switch the device on, check its cable and whether it sends at all; a MODBUS device of another unit is modbus-rtu with its register map.';
    case 'garbled':
      return 'bytes that make no text at any speed that was tried. Name the speed with --baud, or look up how the device sends.';
  }
}

function greetingWords(greeting: readonly string[]): string {
  const [first] = greeting;
  if (first === undefined) return '';
  const lines = greeting.length === 1 ? 'a line' : `${greeting.length} lines`;
  return ` It printed ${lines} before its readings ("${printable(first, SHOWN_CHARACTERS)}"), as boards do that restart when their port opens.`;
}
