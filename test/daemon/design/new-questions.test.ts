import { describe, expect, it } from 'vitest';
import { newDesignQuestions, type Question } from '../../../daemon/design/new-questions.js';

/** The question that comes after these answers. */
function after(...typed: string[]): Question {
  const questions = newDesignQuestions();
  let step = questions.next('');
  for (const line of typed) step = questions.next(line);
  if (step.done === true) throw new Error('there is nothing left to ask');
  return step.value;
}

const RAIL = ['yard', '', '', '', '', ''];

describe('the questions', () => {
  it('begin with a name and its suggestion', () => {
    expect(after()).toEqual({ text: 'What is the supply called?', suggestion: 'my supply', complaint: null });
  });

  it.each<readonly [string[], string]>([
    [['yard', '110'], 'found "110"; 230 or 120 is allowed'],
    [['yard', '', 'twelve'], 'found "twelve"; a number from 5 to 60 (volts) is allowed'],
    [['yard', '', '', '0'], 'found "0"; a number from 1 to 2000 (volt-amperes) is allowed'],
    [['yard', '', '', '', '', '2.5'], 'found "2.5"; a whole number from 1 to 6 is allowed'],
    [
      [...RAIL, 'Lamps 1'],
      'found "Lamps 1"; a name of small letters, digits and hyphens that begins with a letter is allowed',
    ],
    [[...RAIL, 'lamps', '12', '0.5', '0.6'], 'found "0.6"; a number from 0 to 0.5 (amps) is allowed'],
    [
      [...RAIL, 'lamps', '12', '0.5', '', '', '', 'hot'],
      'found "hot"; a number from 0.1 to 100 (K/W), or none, is allowed',
    ],
    [
      [...RAIL, 'lamps', '12', '0.5', '', '', '', '', '12'],
      'found "12"; a number from 12.5 to 100 (volts above its own) is allowed',
    ],
  ])('%j is asked again', (typed, complaint) => {
    const again = after(...typed);
    expect(again.complaint).toBe(complaint);
    expect(again.text).toBe(after(...typed.slice(0, -1)).text);
  });

  it('a part that gives other volts is asked again, with those that fit', () => {
    expect(after(...RAIL, 'lamps', '12', '0.5', '', '', '7805').complaint).toMatch(
      /^found "7805"; one that makes 12 V \(.*LM317.*7812.*\) is allowed$/,
    );
  });

  it('a reserved name and a name that is taken are asked again', () => {
    expect(after(...RAIL, 'reservoir').complaint).toMatch(/^found "reservoir"; a name other than mains, /);
    const second = ['yard', '', '', '', '', '2', 'lamps', '', '', '', '', '', '', '', 'lamps'];
    expect(after(...second).complaint).toMatch(/, ambient, lamps is allowed$/);
  });

  it('a decimal comma is taken', () => {
    expect(after('yard', '', '12,6').complaint).toBeNull();
  });
});
