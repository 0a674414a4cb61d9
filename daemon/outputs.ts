import { readYaml } from './design/yaml-text.js';
import type { Bench, BenchLink, BenchOutput } from './design/bench.js';
import { FileProblems, problemsAt, shown, type Finding } from './design/file-problems.js';
import type { Written } from './files.js';
import type { WatchEvent } from './watch/events.js';
import type { Clock } from '../drivers/clock.js';
import type { Link } from '../drivers/link.js';
import type { Output, OutputDriver, OutputEvent } from '../drivers/outputs/output.js';
import { OUTPUT_DRIVERS } from '../drivers/outputs/registry.js';

/** An output of the bench with its driver. */
export interface JoinedOutput {
  readonly name: string;
  readonly spec: BenchOutput;
  readonly driver: OutputDriver;
}

/** Whatever the bench file joins by a link. */
export interface LinkedDevice {
  readonly name: string;
  readonly spec: { readonly link?: BenchLink | undefined };
}

/**
 * Joins each output of the bench file with its driver.
 * @throws {FileProblems} for unknown drivers, refused options, and a name that an instrument has.
 */
export function joinOutputs({ file, text, value }: Written<Bench>): readonly JoinedOutput[] {
  const findings: Finding[] = [];
  const joined = Object.entries(value.outputs ?? {}).flatMap(([name, spec]): JoinedOutput[] => {
    const path = ['outputs', name];
    if (Object.hasOwn(value.instruments, name)) {
      findings.push(finding(path, name, 'a name that no instrument has'));
    }
    const driver = Object.hasOwn(OUTPUT_DRIVERS, spec.driver) ? OUTPUT_DRIVERS[spec.driver] : undefined;
    if (driver === undefined) {
      findings.push(finding([...path, 'driver'], spec.driver, Object.keys(OUTPUT_DRIVERS).join(', ')));
      return [];
    }
    for (const { key, found, allowed } of driver.checkOptions(spec.options))
      findings.push(finding([...path, 'options', ...key.split('.')], found, allowed));
    return [{ name, spec, driver }];
  });
  if (findings.length === 0) return joined;
  const yaml = readYaml(text, file);
  throw new FileProblems(problemsAt(file, findings, (path) => yaml.lineOf(path)));
}

function finding(path: readonly string[], found: unknown, allowed: string): Finding {
  const sentence = `found ${shown(found)}; allowed is ${allowed}`;
  return { path, found: shown(found), allowed, sentence };
}

export interface OutputSurroundings {
  readonly clock: Clock;
  readonly linkFor: (output: LinkedDevice) => Link;
  readonly take: (event: WatchEvent) => void;
}

/** The outputs of one session. Those that aren't armed are left alone: no link of theirs is opened. */
export class SessionOutputs {
  readonly #joined: readonly JoinedOutput[];
  readonly #around: OutputSurroundings;
  readonly #running = new Map<string, Output>();

  constructor(joined: readonly JoinedOutput[], around: OutputSurroundings) {
    this.#joined = joined;
    this.#around = around;
  }

  start(): void {
    const { clock, linkFor, take } = this.#around;
    for (const joined of this.#joined.filter(({ spec }) => spec.armed)) {
      const { name, spec, driver } = joined;
      const emit = (event: OutputEvent): void => take(watchEventOf(name, event));
      this.#running.set(name, driver.start({ link: linkFor(joined), options: spec.options, clock, emit }));
    }
  }

  /** To be called while the session goes on: an output that isn't told so takes power away by itself. */
  keepAlive(): void {
    for (const output of this.#running.values()) output.keepAlive();
  }

  /** Rejects with what is wrong and the cure. */
  switch(name: string, position: 'on' | 'off'): Promise<void> {
    const output = this.#running.get(name);
    if (output !== undefined) return position === 'on' ? output.on() : output.off();
    const isKnown = this.#joined.some((one) => one.name === name);
    const cure = isKnown ? 'is not armed; write armed: true in the bench file' : 'is no output of this bench';
    return Promise.reject(new Error(`${name} ${cure}`));
  }

  /** Takes power away where it was let through; tells of each output that doesn't say that it is gone. */
  async stop(): Promise<void> {
    const { clock, take } = this.#around;
    await Promise.all(
      [...this.#running].map(async ([name, output]) => {
        const failed = await output.stop();
        if (failed !== null)
          take({ kind: 'output', atMs: clock.nowMs(), output: name, position: 'off', failed });
      }),
    );
  }
}

/** An output stands among the instruments: its loss is an alarm like theirs. */
function watchEventOf(name: string, event: OutputEvent): WatchEvent {
  switch (event.kind) {
    case 'state':
      return { ...event, kind: 'instrument', instrument: name };
    case 'fault':
      return { ...event, instrument: name };
    case 'position':
      return { ...event, kind: 'output', output: name, failed: null };
  }
}
