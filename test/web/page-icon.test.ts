import { describe, expect, it } from 'vitest';
import { pageIcon } from '../../web/page-icon.js';
import { HOT_CASE } from './signal-cabin.js';

const live = { kind: 'live' } as const;

describe('the icon of the tab', () => {
  it('is another one for each of well, alarm and lost', () => {
    expect(pageIcon({ link: live, alarms: [] })).toBe('well');
    expect(pageIcon({ link: live, alarms: [HOT_CASE] })).toBe('alarm');
    expect(pageIcon({ link: { kind: 'down' }, alarms: [] })).toBe('lost');
  });

  it('shows no alarm for one that is put aside', () => {
    expect(pageIcon({ link: live, alarms: [{ ...HOT_CASE, state: 'suppressed' }] })).toBe('well');
  });
});
