import { BadUse } from '../command-line.js';

/** `90`, `1:30` or `1:02:05` in ms. @throws {BadUse} when it is none of them. */
export function timeArgument(name: string, text: string): number {
  if (!/^(\d+:)?(\d+:)?\d+(\.\d+)?$/.test(text)) {
    throw new BadUse(`--${name}: found "${text}"; a time such as 90, 1:30 or 1:02:05 is allowed`);
  }
  return text.split(':').reduce((seconds, part) => seconds * 60 + Number(part), 0) * 1000;
}
