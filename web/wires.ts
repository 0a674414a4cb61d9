/** Where a block lies in the map, in CSS pixels. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

/** How far beneath a block's top a wire enters it from the side. */
const ENTRY = 22;
/** Neighbours are no further apart. */
const NEAR = 60;
/** Between two wires that go beside each other. */
const LANE = 5;

/** What a wire must know beside its ends. */
export interface Surroundings {
  /** Whether nothing else is fed by the first block. */
  readonly alone: boolean;
  /** Wires of different feeding blocks keep apart. */
  readonly lane: number;
  /** Where the feeding block's row ends. */
  readonly rowBottom: number;
}

/**
 * The path of the wire from the block that feeds to one that is fed: straight between neighbours, else down, along
 * the gap beneath the feeding block's row, and down the gap to the left of the fed one.
 */
export function wirePath(from: Box, to: Box, { alone, lane, rowBottom }: Surroundings): string {
  const right = from.left + from.width;
  const bottom = from.top + from.height;
  const entry = to.top + ENTRY;
  const isBeside = Math.abs(from.top - to.top) < 1 && to.left > right && to.left - right < NEAR;
  if (isBeside) return `M${right} ${entry}H${to.left}`;
  const isBelow = Math.abs(from.left - to.left) < 1 && to.top > bottom && to.top - bottom < NEAR;
  const out = from.left + ENTRY;
  if (isBelow && alone) return `M${out} ${bottom}V${to.top}`;
  const offset = lane * LANE;
  return `M${out} ${bottom}V${rowBottom + 10 + offset}H${to.left - 10 - offset}V${entry}H${to.left}`;
}
