import type { BenchHook } from '../design/bench.js';
import type { Hook } from './hook.js';
import { postText } from './post-hook.js';
import { runProgram } from './run-hook.js';

/** The hooks that a bench file names, in its order. */
export function benchHooks(written: readonly BenchHook[]): readonly Hook[] {
  return written.map(({ priority, run, post, timeout_s }) => {
    const timeoutMs = timeout_s * 1000;
    if (run !== undefined) {
      const deliver: Hook['deliver'] = (text, signal) => runProgram(run, text, signal);
      return { name: `run ${run[0] ?? ''}`, priority, timeoutMs, deliver };
    }
    const address = post ?? '';
    const deliver: Hook['deliver'] = (text, signal) => postText(address, text, signal);
    return { name: `post ${withoutSecrets(address)}`, priority, timeoutMs, deliver };
  });
}

/** Addresses carry passwords and tokens; those stay out of the recording. */
function withoutSecrets(address: string): string {
  const { origin, pathname, search } = new URL(address);
  return `${origin}${pathname}${search === '' ? '' : '?…'}`;
}
