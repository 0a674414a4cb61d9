import { expect, it } from 'vitest';
import { supplyLine } from '../../web/supply-order.js';
import { POINTS } from './signal-cabin.js';

it('goes from the mains to the rails, with the air beside it', () => {
  const line = supplyLine([...POINTS].reverse());
  expect(line.feed.map((block) => block.title)).toEqual(['Transformer', 'Reservoir']);
  expect(line.rails.map((block) => block.title)).toEqual(['Logic rail', 'Lamps rail']);
  expect(line.around.map((block) => block.title)).toEqual(['Air around it']);
});

it('loses no point', () => {
  const { feed, rails, around } = supplyLine(POINTS);
  const ids = [...feed, ...rails, ...around].flatMap((block) => block.points.map((point) => point.id));
  expect(ids.sort()).toEqual(POINTS.map((point) => point.id).sort());
});
