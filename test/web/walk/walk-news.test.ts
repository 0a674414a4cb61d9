import { describe, expect, it } from 'vitest';
import type { ProcedureView } from '../../../daemon/serve/messages.js';
import { walkNews } from '../../../web/walk/walk-news.js';
import { ABORTED, COLD, FAILED, OVERRIDDEN, SIGNED, UNBEGUN, walkAt } from '../cabin-walk.js';

function heard(before: ProcedureView | null, now: ProcedureView | null): string {
  return (walkNews(before, now)?.words ?? '').replaceAll('\u00a0', ' ');
}

describe('what is heard of the power-up', () => {
  it('nothing of what was there when the page came, nor of what stays the same', () => {
    expect(walkNews(null, COLD)).toBeNull();
    expect(walkNews(COLD, COLD)).toBeNull();
    expect(walkNews(COLD, null)).toBeNull();
  });

  it('a step that begins, with what must not be connected yet', () => {
    expect(heard(UNBEGUN, COLD)).toMatch(
      /^Step 1 of 11: Cold checks\. Do not connect yet: The mains; Every module that the supply will feed\. Follow/,
    );
  });

  it('a failure, at once', () => {
    expect(walkNews(walkAt('rails'), FAILED)?.urgent).toBe(true);
    expect(heard(walkAt('rails'), FAILED)).toMatch(/^Failed\. Logic rail: 5\.42 V/);
    expect(walkNews(FAILED, FAILED)).toBeNull();
  });

  it('a failure that is mended', () => {
    expect(
      heard(FAILED, {
        ...walkAt('rails'),
        steps: FAILED.steps.map((step) => ({ ...step, status: 'running' })),
      }),
    ).toMatch(/No longer wrong/);
  });

  it('a value that is kept, and that the way is open', () => {
    const points = walkAt('lid')
      .steps.at(-2)!
      .points.map((point) => ({
        ...point,
        captured: point.point === 'logic.volts' ? { value: 5.02, atMs: 9, verdict: 'inside' as const } : null,
      }));
    expect(heard(walkAt('lid'), walkAt('lid', { status: 'ready', points }))).toBe(
      'Logic rail 5.02 V, inside. All of it is inside. The next step may begin: Sign-off.',
    );
  });

  it('an override, a signature and the end that isn’t one', () => {
    expect(heard(walkAt('rails'), OVERRIDDEN)).toMatch(/^Overridden\. The next step may begin: Dummy load/);
    expect(heard(walkAt('sign-off'), SIGNED)).toBe('Signed off by A. Signalwoman.');
    expect(heard(walkAt('soak'), ABORTED)).toMatch(/^Broken off\. Switch off at the mains and pull the plug/);
    expect(walkNews(walkAt('soak'), ABORTED)?.urgent).toBe(true);
  });
});
