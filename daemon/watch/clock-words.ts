/** Session time as a person reads it: `12:05` for 12 minutes 5 seconds. */
export function clockWords(atMs: number): string {
  const seconds = Math.floor(atMs / 1000);
  const minutes = Math.floor(seconds / 60);
  return `${String(minutes).padStart(2, '0')}:${String(seconds % 60).padStart(2, '0')}`;
}
