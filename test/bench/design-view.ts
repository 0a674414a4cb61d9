import { readFileSync } from 'node:fs';
import { performance } from 'node:perf_hooks';
import { previewOf } from '../../daemon/desk/preview.js';
import type { PreviewRequest } from '../../daemon/serve/design-messages.js';

export interface DesignViewRow {
  readonly name: string;
  /** Medians in ms of a preview as it comes while a person types, and of the full one that follows. */
  readonly quickMs: number;
  /** Processor time of the same, median: what a machine with nothing else to do needs. */
  readonly quickCpuMs: number;
  readonly fullMs: number;
  /** Quick over full, taken in turns in the same run. */
  readonly quickToFull: number;
  readonly findings: number;
}

const ROUNDS = 11;
const EXAMPLES = ['signal-cabin', 'turntable', 'goods-crane', 'level-crossing'];

/** How long a change takes from its arrival to the answer: edit, form, checks, prediction, advice with cures tried. */
export function rows(): readonly DesignViewRow[] {
  return EXAMPLES.flatMap((name) => {
    const text = example(name);
    return [
      measured(name, text),
      measured(`${name}, no heatsinks`, text.replace(/heatsink: [\d.]+/g, 'heatsink: none')),
    ];
  });
}

function measured(name: string, text: string): DesignViewRow {
  const quick: number[] = [];
  const full: number[] = [];
  const cpu: number[] = [];
  let findings = 0;
  for (let round = 0; round < ROUNDS; round += 1) {
    // Another capacity each time, so that nothing answered before can be of use.
    const edits = [{ path: ['reservoir', 'capacity_uF'], value: 4700 + round }];
    const request: PreviewRequest = { text, edits, load: 'typical', draws: 'quick' };
    const before = process.cpuUsage();
    quick.push(timed(() => (findings = previewOf(request, name).prediction?.advice.length ?? NaN)));
    const { user, system } = process.cpuUsage(before);
    cpu.push((user + system) / 1000);
    full.push(timed(() => void previewOf({ ...request, draws: 'full' }, name)));
  }
  if (!(findings > 0)) throw new Error(`${name} wasn't predicted`);
  const quickMs = median(quick);
  const fullMs = median(full);
  return {
    name,
    quickMs,
    quickCpuMs: median(cpu),
    fullMs,
    quickToFull: quickMs / fullMs,
    findings,
  };
}

/** The runner starts at the package's folder. */
function example(name: string): string {
  return readFileSync(`daemon/design/examples/${name}/${name}.design.yaml`, 'utf8');
}

function timed(work: () => void): number {
  const startedMs = performance.now();
  work();
  return performance.now() - startedMs;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? NaN;
}
