import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';

/** The sample recordings come from the simulated bench, which shares no formula with the prediction. */
function suspects(sample: string, ...options: readonly string[]): { code: number | null; stdout: string } {
  const { status, stdout } = spawnSync(
    process.execPath,
    ['dist/daemon/main.js', 'suspects', `recordings/${sample}.ndjson`, ...options],
    { encoding: 'utf8' },
  );
  return { code: status, stdout };
}

describe('what a recording speaks for', () => {
  it.each([
    ['diode-open', 'one diode of the rectifier is open', 1],
    ['reservoir-dried', 'the reservoir has dried up to a third', 1],
    ['healthy', 'nothing is wrong', 0],
  ])(
    '%s: first comes "%s"',
    (sample, title, exitCode) => {
      const { code, stdout } = suspects(sample);
      const [first] = stdout.split('\n').filter((line) => /^ *\d+ % /.test(line));
      expect(first).toContain(title);
      expect(code).toBe(exitCode);
      expect(stdout).toMatch(/something that isn't listed/);
      expect(stdout).toMatch(/^(Next: Measure|No other test point)/m);
    },
    120_000,
  );

  it('as JSON: probabilities that sum to one, and the capacitance of a dried reservoir', () => {
    const { stdout } = suspects('reservoir-dried', '--json');
    const found = JSON.parse(stdout) as {
      suspects: { probability: number }[];
      other: { probability: number };
      parameters: { id: string; low: number; high: number }[];
    };
    const sum = found.suspects.reduce((total, { probability }) => total + probability, 0);
    expect(sum + found.other.probability).toBeCloseTo(1, 6);
    // The simulated reservoir keeps a third of its 4,700 µF.
    const farads = found.parameters.find(({ id }) => id === 'reservoir.farads');
    expect(farads?.low).toBeLessThan(4700e-6 / 3);
    expect(farads?.high).toBeGreaterThan(4700e-6 / 3);
  }, 120_000);
});
