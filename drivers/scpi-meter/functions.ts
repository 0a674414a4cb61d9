import type { Measurand } from '../driver.js';

interface MeterFunction {
  /** As SCPI-1999 volume 2 writes it: capitals are the short form, the whole the long form. */
  readonly configure: string;
  /** Words that some meters put before the number, in capitals. */
  readonly headers: readonly string[];
}

const FUNCTIONS: Readonly<Record<Measurand, MeterFunction>> = {
  'dc-volts': { configure: 'CONFigure:VOLTage:DC', headers: ['VOLT', 'VOLT:DC', 'VDC', 'DCV'] },
  'ac-volts': { configure: 'CONFigure:VOLTage:AC', headers: ['VOLT:AC', 'VAC', 'ACV'] },
  'dc-amps': { configure: 'CONFigure:CURRent:DC', headers: ['CURR', 'CURR:DC', 'ADC', 'DCI'] },
  'ac-amps': { configure: 'CONFigure:CURRent:AC', headers: ['CURR:AC', 'AAC', 'ACI'] },
  ohms: { configure: 'CONFigure:RESistance', headers: ['RES', 'OHM'] },
  temperature: { configure: 'CONFigure:TEMPerature', headers: ['TEMP'] },
  frequency: { configure: 'CONFigure:FREQuency', headers: ['FREQ'] },
};

/**
 * The command that makes a meter ready to measure this. Sent in the short form, which every parser that keeps to
 * SCPI takes and the simple ones know best.
 */
export function configureCommand(measurand: Measurand): string {
  return shortForm(FUNCTIONS[measurand].configure);
}

/** `CONF:VOLT:DC` of `CONFigure:VOLTage:DC`. */
export function shortForm(command: string): string {
  return command.replace(/[a-z]+/g, '');
}

/** Whether `word` before a number says that the number is this. */
export function isHeaderOf(measurand: Measurand, word: string): boolean {
  return FUNCTIONS[measurand].headers.includes(word.toUpperCase());
}
