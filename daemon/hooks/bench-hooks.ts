import type { BenchHook } from '../design/bench.js';
import type { Hook } from './hook.js';
import { postText } from './post-hook.js';
import { runProgram } from './run-hook.js';

/** The hooks that a bench file names, in its order. No two have the same name, so that each is told by itself. */
export function benchHooks(written: readonly BenchHook[]): readonly Hook[] {
  const names = written.map(nameOf);
  return written.map(({ priority, run, post, timeout_s }, at) => {
    const plain = names[at] ?? '';
    const before = names.slice(0, at).filter((name) => name === plain).length;
    return {
      name: before === 0 ? plain : `${plain} (${before + 1})`,
      priority,
      timeoutMs: timeout_s * 1000,
      deliver: (text, signal) =>
        run === undefined ? postText(post ?? '', text, signal) : runProgram(run, text, signal),
    };
  });
}

function nameOf({ run, post }: BenchHook): string {
  return run === undefined ? `post ${withoutSecrets(post ?? '')}` : `run ${run[0] ?? ''}`;
}

/** Addresses carry passwords and tokens; those stay out of the recording. */
function withoutSecrets(address: string): string {
  const { origin, pathname, search } = new URL(address);
  return `${origin}${pathname}${search === '' ? '' : '?…'}`;
}
