import { numberBetween, numberOption, optionOf, optionProblems } from '../options.js';
import { lineOutput } from './line-output.js';
import type { OutputDriver } from './output.js';

const RULES = {
  output: {
    allowed: 'the number of the output, 1 to 16',
    accepts: (value: unknown) => Number.isInteger(value) && Number(value) >= 1 && Number(value) <= 16,
  },
  ask_ms: numberBetween(100, 60_000, 'ms from one look at its output to the next'),
  timeout_ms: numberBetween(50, 10_000, 'ms'),
};

/**
 * The output of a bench supply by OUTPut[:STATe] and its query, which answers 1 or 0 (SCPI-1999, volume 2, chapter
 * 15). It knows no keep-alive: when this program ends without a goodbye, the output stays as it is.
 */
export const scpiSupply: OutputDriver = {
  name: 'scpi-supply',
  switches: 'bench supplies that answer SCPI commands; they stay on when this program dies',
  checkOptions: (options) => optionProblems(options, RULES),
  start(context) {
    const { options } = context;
    const header = `OUTP${optionOf(options, 'output') === undefined ? '' : numberOption(options, 'output', 1)}`;
    return lineOutput(context, {
      on: `${header} ON`,
      off: `${header} OFF`,
      ask: `${header}?`,
      alive: `${header}?`,
      aliveMs: numberOption(options, 'ask_ms', 1000),
      timeoutMs: numberOption(options, 'timeout_ms', 1000),
      positionIn(line) {
        const said = line.trim();
        if (/^\+?1$/.test(said)) return 'on';
        return /^[+-]?0$/.test(said) ? 'off' : null;
      },
    });
  },
};
