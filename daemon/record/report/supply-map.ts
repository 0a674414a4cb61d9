import { readYaml } from '../../design/yaml-text.js';
import type { Verdict } from '../../watch/effects.js';
import { valueWords } from '../../watch/value-words.js';
import { html, NOTHING, type Markup } from './html.js';
import type { Standing } from './standing.js';
import { MARKS } from './verdict-mark.js';

const BOX = { width: 156, height: 58, gapX: 18, gapY: 16 };
const WIDTH = 4 * BOX.width + 3 * BOX.gapX + 2;

interface Block {
  readonly title: string;
  readonly detail: string;
  readonly part: string;
  /** The block that feeds it, by part; null for the mains. */
  readonly from: string | null;
  readonly column: number;
  readonly row: number;
}

/**
 * The supply from mains to loads as the design's own text draws it, the measured values on each block. Nothing when
 * that text can't be read any more.
 */
export function supplyMap(designText: string, standings: readonly Standing[]): Markup {
  const design = readDesign(designText);
  if (design === null) return NOTHING;
  const blocks = [...sourceBlocks(design), ...railBlocks(design)];
  const rows = Math.max(...blocks.map(({ row }) => row)) + 1;
  const height = rows * (BOX.height + BOX.gapY) - BOX.gapY + 2;
  return html`<section>
    <h2>The supply</h2>
    <svg
      class="map"
      viewBox="0 0 ${WIDTH} ${height}"
      role="img"
      aria-label="The supply from mains to its rails"
    >
      ${blocks.map((block) => wire(block, blocks))} ${blocks.map((block) => box(block, standings))}
    </svg>
  </section>`;
}

interface Measured {
  readonly words: string;
  readonly verdict: Verdict | null;
}

type Node = Readonly<Record<string, unknown>>;

function readDesign(text: string): Node | null {
  try {
    return node(readYaml(text, 'design').value);
  } catch {
    return null;
  }
}

function node(found: unknown): Node {
  return typeof found === 'object' && found !== null ? (found as Node) : {};
}

/** `15 V 30 VA`, what is there. */
function says(from: unknown, ...keys: readonly (readonly [key: string, unit: string])[]): string {
  const found = node(from);
  return keys
    .flatMap(([key, unit]) => {
      const value = found[key];
      return typeof value === 'number' || typeof value === 'string' ? [`${value}${unit}`] : [];
    })
    .join(', ');
}

function sourceBlocks(design: Node): Block[] {
  const found: Omit<Block, 'column' | 'row' | 'from'>[] = [
    { title: 'Mains', detail: says(design['mains'], ['volts', ' V'], ['hertz', ' Hz']), part: 'mains' },
  ];
  if (design['transformer'] !== undefined) {
    const detail = says(design['transformer'], ['volts', ' V'], ['va', ' VA'], ['amps', ' A']);
    found.push({ title: 'Transformer', detail, part: 'transformer' });
  }
  if (design['rectifier'] !== undefined) {
    const detail = says(design['rectifier'], ['kind', ''], ['diode', '']);
    found.push({ title: 'Rectifier', detail, part: 'rectifier' });
  }
  if (design['reservoir'] !== undefined) {
    const detail = says(design['reservoir'], ['capacity_uF', ' µF'], ['working_volts', ' V']);
    found.push({ title: 'Reservoir', detail, part: 'reservoir' });
  }
  return found.map((block, i) => ({ ...block, from: found[i - 1]?.part ?? null, column: i, row: 0 }));
}

function railBlocks(design: Node): Block[] {
  const names = Object.keys(node(design['rails']));
  return names.map((name, i) => {
    const rail = node(node(design['rails'])[name]);
    const regulator = rail['regulator'];
    const isName = typeof regulator === 'string' || typeof regulator === 'number';
    const detail = isName ? String(regulator) : says(regulator, ['kind', '']);
    const heatsink = node(rail['cooling'])['heatsink'];
    const cooled =
      typeof heatsink === 'number' ? `, ${heatsink} K/W` : heatsink === 'none' ? ', no heatsink' : '';
    const fed = rail['from'];
    const from = typeof fed === 'string' && names.includes(fed) ? fed : 'reservoir';
    return {
      title: `Rail ${name}`,
      detail: `${detail}${cooled}`,
      part: name,
      from,
      column: i % 4,
      row: 1 + Math.floor(i / 4),
    };
  });
}

function place({ column, row }: Block): { x: number; y: number } {
  return { x: 1 + column * (BOX.width + BOX.gapX), y: 1 + row * (BOX.height + BOX.gapY) };
}

/** From the feeding block's side or foot to this one's. */
function wire(block: Block, blocks: readonly Block[]): Markup {
  const feeder = blocks.find(({ part }) => part === block.from);
  if (feeder === undefined) return NOTHING;
  const [from, to] = [place(feeder), place(block)];
  if (feeder.row === block.row) {
    const y = to.y + BOX.height / 2;
    return html`<path class="wire" d="M${from.x + BOX.width} ${y}H${to.x}" />`;
  }
  const turn = to.y - BOX.gapY / 2;
  return html`<path
    class="wire"
    d="M${from.x + BOX.width / 2} ${from.y + BOX.height}V${turn}H${to.x + BOX.width / 2}V${to.y}"
  />`;
}

/** What isn't inside has its verdict's shape before it. */
function value({ words, verdict }: Measured, at: number): Markup {
  const mark = verdict === null || verdict === 'inside' ? '' : `${MARKS[verdict]} `;
  return html`<tspan class="${verdict ?? 'unjudged'}">${at === 0 ? '' : '  ·  '}${mark}${words}</tspan>`;
}

function box(block: Block, standings: readonly Standing[]): Markup {
  const { x, y } = place(block);
  const mine = standings.filter(({ prediction: { id } }) => id.startsWith(`${block.part}.`));
  const measured = mine.flatMap(({ measured: found, prediction: { unit }, verdict }) =>
    found?.settled == null ? [] : [{ words: valueWords(found.settled.mean, unit), verdict }],
  );
  const isOutside = measured.some(({ verdict }) => verdict === 'outside');
  return html`<rect
      class="${isOutside ? 'box outside' : 'box'}"
      x="${x}"
      y="${y}"
      width="${BOX.width}"
      height="${BOX.height}"
      rx="2"
    />
    <text class="title" x="${x + 9}" y="${y + 17}">${block.title}</text>
    <text x="${x + 9}" y="${y + 32}">${block.detail}</text>
    <text class="value" x="${x + 9}" y="${y + 49}">${measured.map(value)}</text>`;
}
