import type { Design } from '../../daemon/design/design.js';
import { simulateSupply, type CycleWave, type SimulatedSupply } from '../../drivers/simulated/supply.js';

/** By then a supply that is as designed has warmed up. */
const WARM_MS = 20 * 60_000;
/** By then a fault has shown itself in every voltage. */
const SHOWN_MS = 2000;
const NODES = ['reservoir', 'lamps', 'logic'];

interface Still {
  readonly values: ReadonlyMap<string, number>;
  readonly waves: ReadonlyMap<string, CycleWave>;
}

/** A warm supply that stands still, so that its instruments cost more than it does; a fault changes it at once. */
export function standingSupply(design: Design, seed: number): SimulatedSupply {
  const moving = simulateSupply(design, { seed, load: 'typical', mainsWander_percent: 0 });
  moving.advanceTo(WARM_MS);
  const stills = new Map<string, Still>([['none', stillOf(moving)]]);
  let now = stills.get('none')!;
  const stillWith = (fault: string, rail?: string): Still => {
    const known = stills.get(fault);
    if (known !== undefined) return known;
    moving.switchFault(fault, rail);
    moving.advanceTo(WARM_MS + SHOWN_MS * stills.size);
    const still = stillOf(moving);
    stills.set(fault, still);
    return still;
  };
  return {
    pointIds: moving.pointIds,
    failedShort: [],
    advanceTo: () => undefined,
    read: (pointId) => now.values.get(pointId) ?? moving.read(pointId),
    waveform: (node) => now.waves.get(node) ?? moving.waveform(node),
    switchFault: (fault, rail) => void (now = stillWith(fault, rail)),
    change: (parts) => moving.change(parts),
    setLoad: (load) => moving.setLoad(load),
    power: (state) => moving.power(state),
  };
}

function stillOf(supply: SimulatedSupply): Still {
  return {
    values: new Map(supply.pointIds.map((id) => [id, supply.read(id)])),
    waves: new Map(NODES.map((node) => [node, supply.waveform(node)])),
  };
}
