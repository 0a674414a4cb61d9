import { describe, expect, it } from 'vitest';
import {
  currentStep,
  letterCount,
  openCheck,
  placeWords,
  STATUS,
  titleOf,
} from '../../../web/walk/step-words.js';
import { COLD, UNBEGUN, walkAt } from '../cabin-walk.js';

describe('the words of a step', () => {
  it('say its place and the next one’s title', () => {
    const walk = walkAt('raw');
    expect(placeWords(walk, currentStep(walk)!)).toBe('Step 4 of 11');
    expect(titleOf(walk, walk.next)).toBe('Rails without load');
    expect(titleOf(walk, null)).toBe('');
  });

  it('no step stands before the first has begun', () => {
    expect(currentStep(UNBEGUN)).toBeUndefined();
  });

  it('each place has a word of its own', () => {
    const words = Object.values(STATUS).map(([, word]) => word);
    expect(new Set(words).size).toBe(words.length);
  });

  it('the open check is the first that isn’t inside', () => {
    expect(openCheck(currentStep(COLD)!)?.id).toBe('insulation');
    expect(openCheck({ ...currentStep(COLD)!, checks: [] })).toBeUndefined();
  });

  // Unicode's general category L: letters of every script count, signs and digits don't.
  it.each([
    ['a b', 2],
    ['12 …', 0],
    ['Žofie', 5],
    ['電源が', 3],
  ])('%s has %d letters', (text, count) => {
    expect(letterCount(text)).toBe(count);
  });
});
