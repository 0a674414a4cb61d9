import type { PointView } from '../daemon/serve/messages.js';

/** One part of the supply with its test points, in the order of the snapshot. */
export interface SupplyBlock {
  /** The part or rail in the point's id. */
  readonly part: string;
  readonly title: string;
  readonly points: readonly PointView[];
}

/** The supply as it is wired: what feeds the rails in order from the mains, the rails, and what stands around. */
export interface SupplyLine {
  readonly feed: readonly SupplyBlock[];
  readonly rails: readonly SupplyBlock[];
  readonly around: readonly SupplyBlock[];
}

/** Parts between the mains and the rails, in the order in which the current meets them. */
const FEED_ORDER = ['mains', 'transformer', 'rectifier', 'reservoir', 'filter'];
const AROUND = ['ambient', 'enclosure'];

function titleOf(part: string): string {
  const name = part.charAt(0).toUpperCase() + part.slice(1).replaceAll('-', ' ');
  if (part === 'ambient') return 'Air around it';
  return FEED_ORDER.includes(part) || AROUND.includes(part) ? name : `${name} rail`;
}

/** Groups the points by part: every part that isn't one of the known feeding parts is a rail. */
export function supplyLine(points: readonly PointView[]): SupplyLine {
  const byPart = new Map<string, PointView[]>();
  for (const point of points) {
    const part = point.id.split('.', 1)[0] ?? point.id;
    const block = byPart.get(part);
    if (block) block.push(point);
    else byPart.set(part, [point]);
  }
  const blocks = [...byPart].map(([part, its]) => ({ part, title: titleOf(part), points: its }));
  const rank = (block: SupplyBlock): number => FEED_ORDER.indexOf(block.part);
  return {
    feed: blocks.filter((block) => rank(block) >= 0).sort((a, b) => rank(a) - rank(b)),
    rails: blocks.filter((block) => rank(block) < 0 && !AROUND.includes(block.part)),
    around: blocks.filter((block) => AROUND.includes(block.part)),
  };
}
