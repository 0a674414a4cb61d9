import { describe, expect, it } from 'vitest';
import { framesIn } from '../../../drivers/modbus-rtu/frames.js';
import {
  afterAnswers,
  hasRegisters,
  markerFor,
  notTooOld,
  type Pending,
} from '../../../drivers/modbus-rtu/pending.js';
import { sealed } from './slave.js';

const registers = (count = 1, askedAtMs = 0): Pending => asked(3, count, askedAtMs);
const coils = (count = 1): Pending => asked(1, count, 0);
const inputs = (count = 1): Pending => asked(2, count, 0);

function asked(functionCode: number, count: number, askedAtMs: number): Pending {
  return { request: { unit: 1, functionCode, address: 0, count }, askedAtMs };
}

/** Whole answers of unit 1 by their bodies. */
function answers(...bodies: readonly (readonly number[])[]) {
  return bodies.flatMap((body) => framesIn(sealed([1, ...body])));
}

const REFUSED_COILS = [0x81, 1];
const TEN = [3, 2, 0, 10];

describe('afterAnswers', () => {
  it('leaves what was asked after the first question that the answer can belong to', () => {
    expect(afterAnswers([registers(), coils(), registers(2)], answers(TEN))).toEqual([coils(), registers(2)]);
    expect(afterAnswers([registers(), coils()], answers(REFUSED_COILS))).toEqual([]);
  });

  it('takes the first of two markers that look alike, as the other may still be answered', () => {
    const pending = [coils(), registers(), coils()];
    expect(afterAnswers(pending, answers(REFUSED_COILS))).toEqual([registers(), coils()]);
    expect(afterAnswers(pending, answers(REFUSED_COILS, REFUSED_COILS))).toEqual([]);
  });

  it('tells markers apart by the amount of data', () => {
    expect(afterAnswers([coils(), registers(), coils(16)], answers([1, 2, 0, 0]))).toEqual([]);
  });

  it('is not moved by an answer that nobody waits for', () => {
    expect(afterAnswers([registers(2)], answers(TEN, REFUSED_COILS))).toEqual([registers(2)]);
  });
});

describe('hasRegisters', () => {
  it('is true while an answer with registers may come', () => {
    expect(hasRegisters([coils(), registers(), coils()])).toBe(true);
    expect(hasRegisters([coils(), inputs()])).toBe(false);
  });
});

describe('notTooOld', () => {
  it('gives an answer half a minute', () => {
    expect(notTooOld([registers(1, 0), registers(1, 5000)], 30_001)).toEqual([registers(1, 5000)]);
  });
});

describe('markerFor', () => {
  const functionsOf = (pending: readonly Pending[]): number[] =>
    [0, 1, 2, 3].map((turn) => markerFor(1, pending, turn, 5).functionCode);

  it('uses functions of which nothing is pending before the registers', () => {
    expect(functionsOf([registers()])).toEqual([1, 2, 1, 2]);
    expect(markerFor(1, [coils(), registers()], 0, 5)).toMatchObject({ functionCode: 2, count: 1 });
    expect(markerFor(1, [inputs(), registers(), coils()], 0, 5)).toMatchObject({ functionCode: 1, count: 1 });
  });

  it('uses an amount of its own where both are pending, within what the standard allows', () => {
    const pending = [coils(), inputs(), registers()];
    const counts = Array.from(
      { length: 200 },
      (_, serial) => markerFor(1, pending, serial % 2, serial).count,
    );
    expect(new Set(counts).size).toBe(200);
    expect(Math.min(...counts)).toBeGreaterThan(8);
    expect(Math.max(...counts)).toBeLessThanOrEqual(2000); // MODBUS Application Protocol V1.1b3, 6.1
  });
});
