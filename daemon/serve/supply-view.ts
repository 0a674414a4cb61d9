import type { Design, Rail } from '../design/design.js';
import type { Advice } from '../predict/prediction.js';
import type { KnownFaultView, SupplyBlockView, SupplyView } from './messages.js';

/** What is known of a supply before anything is measured. */
export interface SupplySource {
  readonly design: Design;
  readonly advice: readonly Advice[];
  readonly faults: readonly (KnownFaultView & { readonly about: string })[];
}

type Block = Omit<SupplyBlockView, 'advice' | 'faults'>;

/** The supply as its design joins it, every part with its advice and its known faults; what feeds goes before what is fed. */
export function supplyView({ design, advice, faults }: SupplySource): SupplyView {
  const blocks = [...sourceBlocks(design), ...railBlocks(design)].map((block): SupplyBlockView => ({
    ...block,
    advice: advice
      .filter(({ about }) => about === block.part)
      .map(({ finding, severity, sentence, cure }) => ({ finding, severity, sentence, cure })),
    faults: faults.filter(({ about }) => about === block.part).map(({ fault, title }) => ({ fault, title })),
  }));
  return { rectifier: design.rectifier.kind, blocks };
}

function sourceBlocks(design: Design): Block[] {
  const { mains, transformer, rectifier, filter } = design;
  const taps = transformer.windings === 'centre-tapped' ? '2 × ' : '';
  const rating = transformer.va === undefined ? `${transformer.amps ?? '?'} A` : `${transformer.va} VA`;
  const chain: Block[] = [
    { part: 'mains', kind: 'mains', from: null, detail: `${mains.volts} V, ${mains.hertz} Hz` },
    {
      part: 'transformer',
      kind: 'transformer',
      from: 'mains',
      detail: `${taps}${transformer.volts} V, ${rating}`,
    },
    {
      part: 'rectifier',
      kind: 'rectifier',
      from: 'transformer',
      detail: `${rectifier.kind.replace('-', ' ')}, ${rectifier.diode}`,
    },
    reservoirBlock('reservoir', design.reservoir.capacity_uF, design.reservoir.working_volts),
  ];
  if (rectifier.kind === 'split-bridge') {
    const negative = design.negative_reservoir ?? design.reservoir;
    chain.push(reservoirBlock('negative-reservoir', negative.capacity_uF, negative.working_volts));
  }
  if (filter !== undefined) {
    const detail =
      filter.kind === 'rc'
        ? `${filter.resistor} Ω and ${filter.capacity_uF} µF`
        : `${filter.follower} follower`;
    chain.push({ part: 'filter', kind: 'filter', from: 'reservoir', detail });
  }
  return chain;
}

function reservoirBlock(part: string, capacity_uF: number, workingVolts: number | undefined): Block {
  const volts = workingVolts === undefined ? '' : `, ${workingVolts} V`;
  return { part, kind: 'reservoir', from: 'rectifier', detail: `${capacity_uF} µF${volts}` };
}

/** Each rail behind the one that feeds it, in the order of the design otherwise. */
function railBlocks({ rails }: Design): Block[] {
  const left = new Map(Object.entries(rails));
  const blocks: Block[] = [];
  while (left.size > 0) {
    const ready = [...left].filter(([, { from }]) => !left.has(from));
    // Rails that feed each other: the checks of a design refuse them, and a drawing needs an end.
    const next = ready.length > 0 ? ready : [...left].slice(0, 1);
    for (const [name, rail] of next) {
      blocks.push({ part: name, kind: 'rail', from: rail.from, detail: regulatorWords(rail) });
      left.delete(name);
    }
  }
  return blocks;
}

function regulatorWords({ regulator, cooling }: Rail): string {
  const name =
    typeof regulator === 'string'
      ? regulator
      : regulator.kind === 'zener'
        ? 'zener follower'
        : regulator.kind;
  const heatsink = cooling?.heatsink;
  if (heatsink === undefined) return name;
  if (heatsink === 'none') return `${name}, no heatsink`;
  if (typeof heatsink === 'number') return `${name}, heatsink ${heatsink} K/W`;
  return typeof heatsink === 'string' ? `${name}, on ${heatsink}` : `${name}, heatsink`;
}
