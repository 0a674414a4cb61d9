import { describe, expect, it } from 'vitest';
import { suggestedLamp } from '../../daemon/procedure/lamp.js';
import { stepsOf } from '../../daemon/procedure/procedure.js';
import { askLines, stepLines, wrapped } from '../../daemon/powerup-text.js';
import { example } from './design/topologies.js';

const design = example('turntable');
const steps = stepsOf(design, {
  load: 'typical',
  lamp: suggestedLamp(design),
  hasCutOff: true,
  canMeasure: () => true,
});
const plain = (text: string): string => text;

describe('a step at the terminal', () => {
  it('fits into 80 columns, its questions too', () => {
    for (const step of steps) {
      const lines = [...stepLines(step, 12, 12, plain), ...step.checks.flatMap(askLines)];
      for (const line of lines) expect(line.length, line).toBeLessThanOrEqual(80);
    }
  });

  it('says in words and in red what must not be connected yet, before anything to do', () => {
    const lines = stepLines(steps[4]!, 5, 12, (text) => `<red>${text}</red>`);
    const red = lines.findIndex((line) => line.startsWith('<red>  DO NOT CONNECT YET: '));
    expect(red).toBe(2);
    expect(lines.findIndex((line) => /^ {2}1\. /.test(line))).toBeGreaterThan(red);
  });

  it('puts each caution behind what it goes with', () => {
    const lines = stepLines(steps[1]!, 2, 12, plain);
    const lamp = lines.findIndex((line) => line.includes('Put a filament lamp of 40 W'));
    const caution = lines.findIndex((line, at) => at > lamp && line.includes('CAUTION: The holder'));
    expect(caution).toBeGreaterThan(lamp);
    expect(lines.slice(lamp, caution).some((line) => /^ {2}2\. /.test(line))).toBe(false);
  });

  it('breaks lines at words only, and keeps a word that is too long', () => {
    expect(wrapped('a b', '- ')).toEqual(['- a b']);
    expect(wrapped(`one ${'x'.repeat(100)} two`, '  ')).toEqual(['  one', `  ${'x'.repeat(100)}`, '  two']);
  });
});
