/** Wall time, injected so that tests run at their own pace. */
export interface Wall {
  /** Milliseconds since some fixed moment; never goes back. */
  nowMs(): number;
  /** Calls `action` once after `delayMs`; the returned function cancels it. */
  after(delayMs: number, action: () => void): () => void;
}

/** The machine's own time. */
export const systemWall: Wall = {
  nowMs: () => performance.now(),
  after(delayMs, action) {
    const timer = setTimeout(action, delayMs);
    return () => clearTimeout(timer);
  },
};

/** The machine's own time for work beside the work: its timers don't keep the program alive. */
export const backgroundWall: Wall = {
  nowMs: () => performance.now(),
  after(delayMs, action) {
    const timer = setTimeout(action, delayMs);
    timer.unref();
    return () => clearTimeout(timer);
  },
};
