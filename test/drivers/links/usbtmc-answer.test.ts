import { describe, expect, it } from 'vitest';
import { AnswerEnd } from '../../../drivers/links/usbtmc-answer.js';

function ends(text: string): boolean[] {
  return Array.from({ length: text.length + 1 }, (_, cut) => {
    const end = new AnswerEnd();
    end.take(Buffer.from(text.slice(0, cut), 'latin1'));
    end.take(Buffer.from(text.slice(cut), 'latin1'));
    return end.reached;
  });
}

describe('the end of an answer', () => {
  it.each([
    '12.06\n',
    '#15a\nb\nc\n',
    'DATA #15a\nb\nc\n',
    '#10\n',
    '#15\n\n\n\n\n\n',
    'scope no#9\n',
    '#\n',
    '#x\n',
  ])('is reached by %j, wherever it is cut', (text) => expect(new Set(ends(text))).toEqual(new Set([true])));

  it.each(['12.06', '#15a\nb\n', '#15a\nb\nc', '#3100\n', '#2\r1'])('is not reached by %j', (text) =>
    expect(new Set(ends(text))).toEqual(new Set([false])),
  );
});
