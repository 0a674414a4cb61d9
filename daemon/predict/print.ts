import type { Advice, Limit, PointPrediction, PointUnit, Prediction } from './prediction.js';
import { cutToWidth, digits, UNIT_WORDS, wrapped } from './words.js';

/** A prediction for a person at a terminal: a table of at most 100 columns, the advice, and what was assumed. */
export function predictionTable(prediction: Prediction): string {
  const { points, advice, assumed, load } = prediction;
  return [
    `Predicted at ${load} load. Low to high covers 95 % of supplies built like this.`,
    '',
    ...tableOf(Object.values(points)),
    '',
    'Before you switch on',
    ...(advice.some(isGrave) ? [] : ['  Nothing found that would cook or misbehave.']),
    ...advice.filter(({ severity }) => severity !== 'ready').flatMap(adviceLines),
    '',
    ...section('To have ready', readyLines(advice), 'Nothing.'),
    '',
    ...section(
      'Assumed, since the design file does not say',
      assumed.flatMap(({ key, value, because }) => wrapped(`${key}: ${value} (${because})`, '  ')),
      'Nothing.',
    ),
    '',
    'Mains voltage kills and hot parts burn. Local codes and licensed people decide, not this table.',
  ].join('\n');
}

function isGrave({ severity }: Advice): boolean {
  return severity === 'destroys' || severity === 'misbehaves';
}

/** What a first power-up needs at hand, and what to expect of it. */
function readyLines(advice: readonly Advice[]): string[] {
  return advice
    .filter(({ severity }) => severity === 'ready')
    .flatMap(({ about, sentence, cure }) => wrapped(`${about}: ${sentence}. ${cure}`, '  '));
}

function tableOf(points: readonly PointPrediction[]): string[] {
  const rows = [
    ['test point', 'low', 'typical', 'high', 'unit', 'limits'],
    ...points.map(({ id, low, typical, high, unit, limits }) => [
      id,
      ...[low, typical, high].map((value) => digits(value, unit)),
      UNIT_WORDS[unit],
      tightest(limits)
        .map((limit) => limitWords(limit, unit))
        .join(', '),
    ]),
  ];
  const widths = [0, 1, 2, 3, 4].map((column) => Math.max(...rows.map((row) => (row[column] ?? '').length)));
  return rows.map((row) => {
    const cells = row.slice(0, 5).map((cell, column) => {
      const width = widths[column] ?? 0;
      return column >= 1 && column <= 3 ? cell.padStart(width) : cell.padEnd(width);
    });
    return cutToWidth([...cells, row[5] ?? ''].join('  ').trimEnd());
  });
}

/** The lowest high limit and the highest low one: the others are never reached first. */
function tightest(limits: readonly Limit[]): Limit[] {
  const lows = limits.filter(({ side }) => side === 'low').sort((a, b) => b.value - a.value);
  const highs = limits.filter(({ side }) => side === 'high').sort((a, b) => a.value - b.value);
  return [...lows.slice(0, 1), ...highs.slice(0, 1)];
}

function limitWords({ kind, side, value }: Limit, unit: PointUnit): string {
  const bound = side === 'high' ? 'at most' : 'at least';
  return `${bound} ${digits(value, unit)}${kind === 'damage' ? ' (damage)' : ''}`;
}

function adviceLines({ severity, finding, sentence, cure, reason }: Advice): string[] {
  return [
    ...wrapped(`${severity.toUpperCase()} (${finding}): ${sentence}`, '  '),
    ...wrapped(`${severity === 'note' ? 'Do' : 'Cure'}: ${cure}`, '    '),
    ...wrapped(`From: ${reason}`, '    '),
  ];
}

function section(title: string, lines: readonly string[], otherwise: string): string[] {
  return [title, ...(lines.length > 0 ? lines : [`  ${otherwise}`])];
}
