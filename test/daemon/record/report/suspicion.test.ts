import { expect, it } from 'vitest';
import { suspicionSection } from '../../../../daemon/record/report/suspicion.js';
import type { SessionHistory } from '../../../../daemon/record/session/history.js';
import { HEADER } from '../signal-cabin.js';

const LEADING = {
  fault: 'overload',
  about: 'logic',
  title: 'the rail draws too much',
  probability: 0.998,
  evidence: [
    {
      point: 'logic.case',
      unit: 'degC',
      speaks: 'for',
      value: 88,
      expected: { low: 80, typical: 90, high: 100 },
      healthy: { low: 50, typical: 57, high: 64 },
      bits: 12,
    },
  ],
  action: { switchOff: true, words: 'Switch off and pull the plug.' },
} as const;

const history = (suspicion: SessionHistory['suspicion']) =>
  ({ header: HEADER, suspicion }) as unknown as SessionHistory;

it('says what the readings spoke for, why, and what was to be done; never that it is certain', () => {
  const { text: raw } = suspicionSection(
    history({
      kind: 'suspects',
      atMs: 65_000,
      from: ['logic.case', 'logic.volts'],
      suspects: [LEADING],
      other: 0.001,
      next: null,
      odd: [],
      parameters: [],
    }),
  );
  const text = raw.replace(/\s+/g, ' ');
  expect(text).toContain('Weighed last at 1:05');
  expect(text).toMatch(/<b>99 % the rail draws too much \(logic\)\.<\/b> For it: .*88 °C, 31 K hotter/);
  expect(text).toContain('1 % is kept for one that');
  expect(text).toContain('Switch off and pull the plug.');
});

it('says nothing where nothing was weighed', () => {
  expect(suspicionSection(history(null)).text).toBe('');
});
