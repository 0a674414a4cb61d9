import { describe, expect, it } from 'vitest';
import { isoWithOffset, recordingHeader } from '../../../daemon/record/header.js';
import { HEADER, PLAN } from './signal-cabin.js';

describe('isoWithOffset', () => {
  // Offsets: Europe/Berlin in winter, Asia/Kolkata, America/St_Johns (IANA time zone database).
  it.each([
    [60, '2026-11-25T09:39:12.345+01:00'],
    [330, '2026-11-25T14:09:12.345+05:30'],
    [-210, '2026-11-25T05:09:12.345-03:30'],
    [0, '2026-11-25T08:39:12.345+00:00'],
  ])('%i minutes', (offsetMinutes, text) => {
    expect(isoWithOffset(new Date('2026-11-25T08:39:12.345Z'), offsetMinutes)).toBe(text);
  });
});

describe('recordingHeader', () => {
  it('says the moment at which the session began', () => {
    const start = new Date('2026-11-25T08:39:12.345Z');
    const header = recordingHeader(
      { software: 'x 1', design: HEADER.design, bench: HEADER.bench, plan: PLAN },
      start,
    );
    expect(new Date(header.startedAt)).toEqual(start);
    expect(Object.keys(header)).toEqual(Object.keys(HEADER));
  });
});
