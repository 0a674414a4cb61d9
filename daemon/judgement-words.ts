import type { Judgement } from '../drivers/listen/judge.js';

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
      return `lines for text-lines with ${how}, ${read} of ${of} read.${doubt} Write test points (logic.case) for the names in braces.`;
    }
    case 'text':
      return 'text without a number that could be a reading. Wait until the board prints its values, and listen longer.';
    case 'lcd-frames':
      return 'frames of a display, for lcd-frames. Check its number against the display before you trust it.';
    case 'scpi':
      return `answers "${judgement.identity}", so scpi-meter or scpi-scope talks to it.`;
    case 'silent':
      return 'silent, and no answer to *IDN?. Switch the device on, check its cable and whether it sends at all; a MODBUS device only answers what its register map (modbus-rtu) asks.';
    case 'garbled':
      return 'bytes that make no text at any speed that was tried. Name the speed with --baud, or look up how the device sends.';
  }
}
