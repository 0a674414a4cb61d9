/** Lets promises that are ready run on, so that a test can look at what they did. No time passes. */
export async function settle(): Promise<void> {
  for (let turn = 0; turn < 5; turn += 1) await new Promise((resolve) => setImmediate(resolve));
}
