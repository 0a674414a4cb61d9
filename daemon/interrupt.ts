const SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const;
const ENOUGH = 3;

/**
 * Resolves when the person (Ctrl-C) or the system asks the program to end, with the signal's name. A second signal
 * changes nothing, so that a key pressed twice doesn't cut the end in order short; a third ends the program at once.
 */
export function untilInterrupted(): Promise<NodeJS.Signals> {
  let asked = 0;
  return new Promise((resolve) => {
    function onSignal(signal: NodeJS.Signals): void {
      resolve(signal);
      asked += 1;
      if (asked < ENOUGH) return;
      for (const one of SIGNALS) process.off(one, onSignal);
      process.kill(process.pid, signal);
    }
    for (const signal of SIGNALS) process.on(signal, onSignal);
  });
}
