/** Time as drivers and the daemon see it: injected, so that tests and simulated benches run at their own pace. */
export interface Clock {
  /** Milliseconds since the session's start; never goes back. */
  nowMs(): number;
  /** Calls `action` once after `delayMs` of this clock's time; the returned function cancels it. */
  after(delayMs: number, action: () => void): () => void;
}
