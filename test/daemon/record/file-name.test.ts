import { describe, expect, it } from 'vitest';
import { recordingFileName } from '../../../daemon/record/file-name.js';

const START = '2026-11-25T08:39:12.345+01:00';

describe('recordingFileName', () => {
  it.each([
    ['signal cabin', 1, '2026-11-25-0839-signal-cabin.ndjson'],
    ['signal cabin', 3, '2026-11-25-0839-signal-cabin-3.ndjson'],
    ['Stellwerk Süd / 12 V', 1, '2026-11-25-0839-stellwerk-sud-12-v.ndjson'],
    ['../../etc/passwd', 1, '2026-11-25-0839-etc-passwd.ndjson'],
    ['信号所', 1, '2026-11-25-0839-session.ndjson'],
    ['x'.repeat(300), 1, `2026-11-25-0839-${'x'.repeat(60)}.ndjson`],
  ])('%s, attempt %i', (name, attempt, file) => {
    expect(recordingFileName(START, name, attempt)).toBe(file);
  });
});
