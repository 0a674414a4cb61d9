import { describe, expect, it } from 'vitest';
import { blocksOf } from '../../../drivers/modbus-rtu/blocks.js';
import { busUnits, nextUnit, type BusUnit } from '../../../drivers/modbus-rtu/bus-unit.js';
import { registersOf } from '../../../drivers/modbus-rtu/register-map.js';
import { register } from './stage.js';

const OPTIONS = { registers: [1, 2, 3].map((unit) => register(`case${unit}`, 0, { unit })) };

/** Units 1, 2 and so on that are due at these times, some in doubt. */
function units(...due: readonly (readonly [dueMs: number, inDoubt?: boolean])[]): readonly BusUnit[] {
  const all = busUnits(blocksOf(registersOf(OPTIONS))).slice(0, due.length);
  return all.map((unit, index) => {
    const [dueMs = 0, inDoubt = false] = due[index] ?? [];
    return { ...unit, dueMs, inDoubt };
  });
}

describe('nextUnit', () => {
  it('is the one whose time came first', () => {
    expect(nextUnit(units([20], [10], [5000]), 100)?.unit).toBe(2);
  });

  it('is a trusted one before one in doubt, for a second', () => {
    expect(nextUnit(units([0, true], [900]), 1000)?.unit).toBe(2);
    expect(nextUnit(units([0, true], [1100]), 1200)?.unit).toBe(1);
  });

  it('is the one in doubt when no other is due yet', () => {
    expect(nextUnit(units([90, true], [101]), 100)?.unit).toBe(1);
    expect(nextUnit(units([300, true], [301]), 100)?.unit).toBe(1);
  });

  it('is nobody when there are no registers', () => {
    expect(nextUnit(busUnits([]), 0)).toBeUndefined();
  });
});
