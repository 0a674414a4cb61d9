/** One lump of a ladder: what it stores, and what stands between it and the next (the last one's is to the air). */
export interface Stage {
  /** `junction`, `case`, `heatsink`. */
  readonly name: string;
  /** Heat capacity, J/K. */
  readonly capacity: number;
  /** To the next stage, or of the last to the air, K/W. */
  readonly resistance: number;
}

/**
 * A Cauer ladder: junction, case, heatsink … air, each capacity from its node to the air, so that nodes are
 * real places and a heatsink can be joined on. (A Foster chain's nodes aren't, and can't.) Interfaces that store
 * nothing are added to the resistance before them.
 */
export type Ladder = readonly Stage[];

/** Temperatures of all stages after a long time at `watts` into the first, °C: each hotter than the next by P·R. */
export function steadyTemperatures(ladder: Ladder, watts: number, air: number): number[] {
  const temperatures = new Array<number>(ladder.length);
  let temperature = air;
  for (let k = ladder.length - 1; k >= 0; k--) {
    temperature += watts * ladder[k]!.resistance;
    temperatures[k] = temperature;
  }
  return temperatures;
}

/** Junction to air, K/W. */
export function totalResistance(ladder: Ladder): number {
  return ladder.reduce((sum, stage) => sum + stage.resistance, 0);
}
