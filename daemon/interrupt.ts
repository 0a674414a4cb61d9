/** Resolves when the person (Ctrl-C) or the system asks the program to end, with the signal's name. */
export function untilInterrupted(): Promise<NodeJS.Signals> {
  return new Promise((resolve) => {
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) process.once(signal, resolve);
  });
}
