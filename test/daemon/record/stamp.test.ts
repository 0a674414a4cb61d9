import { describe, expect, it } from 'vitest';
import { stampMs } from '../../../daemon/record/stamp.js';

describe('stampMs', () => {
  it('gives whole milliseconds that never go back', () => {
    expect(stampMs(1234.4)).toBe(1234);
    expect(stampMs(1234.6, 1200)).toBe(1235);
    expect(stampMs(1199.7, 1250)).toBe(1250);
    expect(Object.is(stampMs(-0.2), 0)).toBe(true);
  });
});
