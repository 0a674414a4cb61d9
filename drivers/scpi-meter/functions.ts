import type { Measurand } from '../driver.js';

interface MeterFunction {
  /** As SCPI-1999 volume 2 writes it: capitals are the short form, the whole the long form. */
  readonly header: string;
  /** Whether it integrates over mains cycles. */
  readonly integrates: boolean;
  /** Words that some meters put before the number, in capitals. */
  readonly headers: readonly string[];
}

const FUNCTIONS: Readonly<Record<Measurand, MeterFunction>> = {
  'dc-volts': { header: 'VOLTage:DC', integrates: true, headers: ['VOLT', 'VOLT:DC', 'VDC', 'DCV'] },
  'ac-volts': { header: 'VOLTage:AC', integrates: false, headers: ['VOLT:AC', 'VAC', 'ACV'] },
  'dc-amps': { header: 'CURRent:DC', integrates: true, headers: ['CURR', 'CURR:DC', 'ADC', 'DCI'] },
  'ac-amps': { header: 'CURRent:AC', integrates: false, headers: ['CURR:AC', 'AAC', 'ACI'] },
  ohms: { header: 'RESistance', integrates: true, headers: ['RES', 'OHM'] },
  temperature: { header: 'TEMPerature', integrates: true, headers: ['TEMP'] },
  frequency: { header: 'FREQuency', integrates: false, headers: ['FREQ'] },
};

/**
 * The command that makes a meter ready to measure this, on a fixed range or on one that it chooses. Sent in the short
 * form, which every parser that keeps to SCPI takes and the simple ones know best. SCPI-1999 volume 2, chapter 3.
 */
export function configureCommand(measurand: Measurand, range?: number): string {
  return withRange(`CONF:${shortForm(FUNCTIONS[measurand].header)}`, range);
}

/** The question that configures, measures and answers in one. It sets all else to the meter's defaults. */
export function measureQuestion(measurand: Measurand, range?: number): string {
  return withRange(`MEAS:${shortForm(FUNCTIONS[measurand].header)}?`, range);
}

/** The command for the integration time in mains cycles; null for what isn't integrated. SCPI-1999 volume 2, SENSe. */
export function integrationCommand(measurand: Measurand, cycles: number): string | null {
  const { header, integrates } = FUNCTIONS[measurand];
  return integrates ? `${shortForm(header)}:NPLC ${cycles}` : null;
}

/**
 * The command for the unit of temperatures: a meter that is set to degrees F sends bare numbers all the same (SCPI-1999
 * volume 2, UNIT:TEMPerature).
 */
export const UNIT_COMMAND = 'UNIT:TEMP C';

function withRange(command: string, range: number | undefined): string {
  return range === undefined ? command : `${command} ${range}`;
}

/** `CONF:VOLT:DC` of `CONFigure:VOLTage:DC`. */
export function shortForm(command: string): string {
  return command.replace(/[a-z]+/g, '');
}

/** Whether `word` before a number says that the number is this. */
export function isHeaderOf(measurand: Measurand, word: string): boolean {
  return FUNCTIONS[measurand].headers.includes(word.toUpperCase());
}

/** What a meter that calls its function this measures, in quotes or not; null for a name that isn't known. */
export function functionNamed(name: string): Measurand | null {
  const word = name.replace(/^["']|["']$/g, '').toUpperCase();
  const measurands = Object.keys(FUNCTIONS) as Measurand[];
  const isIt = (measurand: Measurand): boolean =>
    isHeaderOf(measurand, word) || FUNCTIONS[measurand].header.toUpperCase() === word;
  return measurands.find(isIt) ?? null;
}
