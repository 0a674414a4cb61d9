const LONGEST_NAME = 60;

/**
 * File name of a recording, sorted by date in any listing: `2026-11-25-0839-signal-cabin.ndjson`, then `-2`, `-3` …
 * @param startedAt ISO 8601 with offset; the local time in it is used.
 * @param attempt 1 for the plain name.
 * @param part which file of the session: `2026-11-25-0839-signal-cabin-part-2.ndjson`.
 */
export function recordingFileName(startedAt: string, name: string, attempt: number, part = 1): string {
  const date = startedAt.slice(0, 10);
  const time = startedAt.slice(11, 16).replace(':', '');
  const suffix = attempt === 1 ? '' : `-${attempt}`;
  const partSuffix = part === 1 ? '' : `-part-${part}`;
  return `${date}-${time}-${plainName(name)}${partSuffix}${suffix}.ndjson`;
}

/** Small letters, digits and hyphens only: fine on every file system, and no path in it. */
function plainName(name: string): string {
  const plain = name
    .normalize('NFKD')
    .replace(/\p{Mark}/gu, '')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .slice(0, LONGEST_NAME)
    .replace(/^-|-$/g, '');
  return plain === '' ? 'session' : plain;
}
