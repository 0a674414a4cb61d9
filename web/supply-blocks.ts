import type { PointView, SupplyBlockView, SupplyView } from '../daemon/serve/messages.js';

/** One part of the supply with its test points, in the order of the snapshot. */
export interface SupplyBlock extends Omit<SupplyBlockView, 'kind'> {
  readonly kind: SupplyBlockView['kind'] | 'around';
  readonly title: string;
  readonly points: readonly PointView[];
}

/** Every part in an order in which what is fed follows what feeds it, then what stands around. */
export function supplyBlocks({ blocks }: SupplyView, points: readonly PointView[]): readonly SupplyBlock[] {
  const parts = new Set(points.map(partOf));
  const pointsOf = (part: string): readonly PointView[] => points.filter((point) => partOf(point) === part);
  const inOrder = blocks.filter(({ from }) => from === null).flatMap((first) => withFed(first, blocks));
  const known = new Set(inOrder.map(({ part }) => part));
  const around = [...parts].filter((part) => !known.has(part));
  return [
    ...inOrder.map((block) => ({ ...block, title: titleOf(block), points: pointsOf(block.part) })),
    ...around.map((part) => ({
      part,
      kind: 'around' as const,
      from: null,
      detail: '',
      advice: [],
      faults: [],
      title: part === 'ambient' ? 'Air around it' : named(part),
      points: pointsOf(part),
    })),
  ];
}

/** The part or rail in a point's id. */
export function partOf({ id }: Pick<PointView, 'id'>): string {
  return id.split('.', 1)[0] ?? id;
}

function withFed(
  block: SupplyBlockView,
  all: readonly SupplyBlockView[],
  passed: ReadonlySet<string> = new Set(),
): readonly SupplyBlockView[] {
  if (passed.has(block.part)) return [];
  const here = new Set([...passed, block.part]);
  return [block, ...all.filter(({ from }) => from === block.part).flatMap((fed) => withFed(fed, all, here))];
}

function titleOf({ part, kind }: SupplyBlockView): string {
  return kind === 'rail' ? `${named(part)} rail` : named(part);
}

function named(part: string): string {
  return part.charAt(0).toUpperCase() + part.slice(1).replaceAll('-', ' ');
}
