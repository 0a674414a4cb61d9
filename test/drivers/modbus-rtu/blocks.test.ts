import { describe, expect, it } from 'vitest';
import { blocksOf, separately } from '../../../drivers/modbus-rtu/blocks.js';
import { registersOf } from '../../../drivers/modbus-rtu/register-map.js';
import { register } from './stage.js';

/** Each question as `unit/function address+count: channels`. */
function questions(...registers: readonly object[]): string[] {
  return blocksOf(registersOf({ registers })).map(({ request, registers: read }) => {
    const { unit, functionCode, address, count } = request;
    return `${unit}/${functionCode} ${address}+${count}: ${read.map(({ name }) => name).join(' ')}`;
  });
}

describe('blocksOf', () => {
  it('reads registers that touch or overlap by one question', () => {
    expect(questions(register('b', 2), register('a', 0, { type: 'float32' }), register('c', 2))).toEqual([
      '1/3 0+3: a b c',
    ]);
  });

  it('never reads across a gap, nor two units or tables at once', () => {
    const unit2 = register('d', 3, { unit: 2 });
    const input = register('c', 1, { read: 'input' });
    expect(questions(register('a', 0), register('b', 2), input, unit2)).toEqual([
      '1/3 0+1: a',
      '1/3 2+1: b',
      '1/4 1+1: c',
      '2/3 3+1: d',
    ]);
  });

  it('asks for no more than fits into one answer', () => {
    // 125 registers: MODBUS Application Protocol V1.1b3, 6.3. 63 numbers of two registers are 126.
    const floats = Array.from({ length: 63 }, (_, i) => register(`f${i}`, 2 * i, { type: 'float32' }));
    expect(questions(...floats).map((text) => text.split(':')[0])).toEqual(['1/3 0+124', '1/3 124+2']);
  });

  it('takes a block apart', () => {
    const [block] = blocksOf(registersOf({ registers: [register('a', 0), register('b', 1)] }));
    expect(block && separately(block).map(({ request }) => request)).toEqual([
      { unit: 1, functionCode: 3, address: 0, count: 1 },
      { unit: 1, functionCode: 3, address: 1, count: 1 },
    ]);
  });
});
