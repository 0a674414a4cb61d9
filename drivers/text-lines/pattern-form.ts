import type { LineBoard } from './line-board.js';
import type { GiveReading, LineForm } from './line-form.js';

/** Lines described by patterns in plain words. */
export function patternForm(board: LineBoard, give: GiveReading): LineForm {
  return {
    wantsFirst: false,
    take(line, atMs) {
      const found = board.match(line);
      if (found === null) return;
      const { matcher, makers } = found;
      for (let slot = 0; slot < makers.length; slot += 1) {
        const maker = makers[slot];
        if (maker !== undefined)
          give(maker(matcher.values[slot] as number, matcher.marks[slot] ?? null, atMs));
      }
    },
  };
}
