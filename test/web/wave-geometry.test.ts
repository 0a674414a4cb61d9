import { describe, expect, it } from 'vitest';
import { waveGeometry, WAVE_HEIGHT, WAVE_WIDTH } from '../../web/wave-geometry.js';
import { reservoirCapture } from './captures.js';

describe('a drawn waveform', () => {
  it('has a mark for each mains period, 20 ms apart on a 50 Hz mains', () => {
    const capture = reservoirCapture();
    const { periods } = waveGeometry(capture, null);
    expect(capture.lengthSeconds).toBeCloseTo(0.1, 9);
    expect(periods).toHaveLength(5);
    expect(periods[1]! - periods[0]!).toBeCloseTo(WAVE_WIDTH / 5, 1);
  });

  it('stays in its box with its one high sample, the predicted ripple around its middle', () => {
    const capture = reservoirCapture();
    const highs = capture.highs.with(100, 25);
    const { wave, top, predicted } = waveGeometry({ ...capture, highs }, { low: 0.94, high: 1.52 });
    const places = [...wave.matchAll(/ (-?[\d.]+)/g)].map(([, y]) => Number(y));
    expect(Math.min(...places)).toBeGreaterThan(0);
    expect(Math.max(...places)).toBeLessThan(WAVE_HEIGHT);
    expect(top).toBeGreaterThan(25);
    expect(predicted!.most.height).toBeGreaterThan(predicted!.least.height);
  });

  it('of a flat line has a height', () => {
    const flat = { ...reservoirCapture(), lows: [5, 5], highs: [5, 5], ripple: null };
    const { wave, top, bottom } = waveGeometry(flat, null);
    expect(top).toBeGreaterThan(bottom);
    expect(wave).not.toMatch(/NaN|Infinity/);
  });
});
