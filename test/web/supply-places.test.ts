import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { placesOf, type Fed } from '../../web/supply-places.js';

const SOURCE: readonly Fed[] = [
  { part: 'mains', kind: 'mains', from: null },
  { part: 'transformer', kind: 'transformer', from: 'mains' },
  { part: 'rectifier', kind: 'rectifier', from: 'transformer' },
  { part: 'reservoir', kind: 'reservoir', from: 'rectifier' },
];
const rail = (part: string, from = 'reservoir'): Fed => ({ part, kind: 'rail', from });

/** The map as text, a row a line. */
function drawn(blocks: readonly Fed[], columns: number): string[] {
  const rows: string[][] = [];
  for (const [part, { column, row }] of placesOf(blocks, columns)) (rows[row] ??= [])[column] = part;
  return rows.map((row) => Array.from(row, (part) => part ?? '-').join(' '));
}

describe('the places of the map', () => {
  it('are a chain with its rails beneath', () => {
    expect(drawn([...SOURCE, rail('lamps'), rail('logic')], 4)).toEqual([
      'mains transformer rectifier reservoir',
      'lamps logic',
    ]);
  });

  it('wrap eight rails', () => {
    const rails = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'].map((name) => rail(name));
    expect(drawn([...SOURCE, ...rails], 4).slice(1)).toEqual(['a b c d', 'e f g h']);
  });

  it('go on to the right with a single rail and what it feeds', () => {
    expect(drawn([...SOURCE, rail('barriers'), rail('flasher', 'barriers')], 6)).toEqual([
      'mains transformer rectifier reservoir barriers flasher',
    ]);
  });

  it('give each half of a split supply its row', () => {
    const split = [
      ...SOURCE,
      rail('plus'),
      { part: 'negative-reservoir', kind: 'reservoir', from: 'rectifier' },
      rail('minus', 'negative-reservoir'),
    ];
    expect(drawn(split, 4)).toEqual([
      'mains transformer rectifier',
      'reservoir plus',
      'negative-reservoir minus',
    ]);
  });

  it('give a rail with a rail behind it its row', () => {
    const blocks = [...SOURCE, rail('a'), rail('b'), rail('c', 'b'), rail('d')];
    expect(drawn(blocks, 4).slice(1)).toEqual(['a', 'b c', 'd']);
  });

  it('are one below the other on a phone', () => {
    expect(drawn([...SOURCE, rail('lamps')], 1)).toEqual([
      'mains',
      'transformer',
      'rectifier',
      'reservoir',
      'lamps',
    ]);
  });

  it('of any supply are one each, in reading order (fast-check, seed 59)', () => {
    const property = fc.property(
      fc.array(fc.nat(), { maxLength: 20 }),
      fc.integer({ min: 1, max: 6 }),
      (froms, columns) => {
        const blocks = [...SOURCE];
        froms.forEach((from, i) =>
          blocks.push(rail(`r${i}`, blocks[3 + (from % (blocks.length - 3))]!.part)),
        );
        const places = [...placesOf(blocks, columns).values()];
        const order = places.map(({ column, row }) => row * columns + column);
        expect(new Set(order).size).toBe(blocks.length);
        expect(order).toEqual(order.toSorted((a, b) => a - b));
        expect(places.every(({ column }) => column < columns)).toBe(true);
      },
    );
    fc.assert(property, { seed: 59 });
  });
});
