import type { Clock } from '../clock.js';
import type { Measurand } from '../driver.js';
import { sendText } from './device.js';
import type { ByteEnd, SimulatedDevice } from './device.js';
import { METER_FUNCTIONS, NOT_A_NUMBER, OVERLOAD, digitOn, nr3, rangeFor } from './meter-functions.js';
import type { MeterFunction } from './meter-functions.js';
import type { RandomSource } from './random.js';
import { errorQueue, eventBitOf } from './scpi-errors.js';
import type { ScpiErrorNumber } from './scpi-errors.js';
import { headerMatcher, programUnits } from './scpi-header.js';
import type { ProgramUnit } from './scpi-header.js';

export interface ScpiMeterOptions {
  readonly end: ByteEnd;
  readonly clock: Clock;
  readonly random: RandomSource;
  /** What the probes see right now, before the meter's own errors; null where there is nothing to measure. */
  measure(measurand: Measurand): number | null;
  /** The meter's own gain error for each function, as a share; 0 by default. */
  gainError?(measurand: Measurand): number;
  /** What a digit is worth, where it isn't the fifth of the range. */
  digit?(measurand: Measurand): number | undefined;
  /** From trigger to reading, ms. Default 100. */
  readonly conversionMs?: number;
}

export const SCPI_METER_IDENTITY = 'Railminder,Simulated meter,0,1.0';

const INPUT_BUFFER_BYTES = 256;
const MESSAGES_WAITING = 32;
const POWER_ON = 128;
const OPERATION_COMPLETE = 1;

/**
 * A bench meter that speaks SCPI at byte level, one message after another as meters on a serial line do: while it
 * converts, what arrives waits in its input buffer.
 */
export function scpiMeterDevice(options: ScpiMeterOptions): SimulatedDevice {
  return new ScpiMeter(options);
}

/** What a unit leads to: an answer, a conversion to wait for, or nothing. */
type Outcome = { readonly answer: string } | { readonly convert: 'answer' | 'keep' } | null;

interface Command {
  readonly fits: (header: string) => boolean;
  readonly isQuery: boolean;
  readonly most: number;
  readonly run: (parameters: readonly string[]) => Outcome;
}

class ScpiMeter implements SimulatedDevice {
  readonly #options: ScpiMeterOptions;
  readonly #errors = errorQueue();
  readonly #commands: readonly Command[];
  #function: MeterFunction = firstFunction();
  /** Null is automatic. */
  #range: number | null = null;
  #lastReading: number | null = null;
  #eventStatus = POWER_ON;
  #eventEnable = 0;
  #serviceEnable = 0;
  #input = '';
  #overrun = false;
  #waiting: string[] = [];
  #isRunning = false;
  #isOn = false;
  #cancelConversion: () => void = () => undefined;

  constructor(options: ScpiMeterOptions) {
    this.#options = options;
    this.#commands = [...this.#commonCommands(), ...this.#systemCommands(), ...this.#meterCommands()];
    options.end.onBytes((bytes) => this.#receive(bytes));
  }

  start(): void {
    this.stop();
    this.#isOn = true;
    this.#reset();
    this.#errors.clear();
    this.#eventStatus = POWER_ON;
    this.#eventEnable = 0;
    this.#serviceEnable = 0;
  }

  stop(): void {
    this.#isOn = false;
    this.#cancelConversion();
    this.#isRunning = false;
    this.#waiting = [];
    this.#input = '';
    this.#overrun = false;
  }

  fillErrorQueue(): void {
    this.#errors.fill();
  }

  #receive(bytes: Uint8Array): void {
    if (!this.#isOn) return;
    for (const byte of bytes) {
      if (byte === 0x0a) this.#endOfMessage();
      else if (this.#input.length >= INPUT_BUFFER_BYTES) this.#overrun = true;
      else this.#input += String.fromCharCode(byte);
    }
    if (!this.#isRunning) this.#runNext();
  }

  #endOfMessage(): void {
    if (this.#overrun || this.#waiting.length >= MESSAGES_WAITING) this.#fail(-363);
    else this.#waiting.push(this.#input);
    this.#input = '';
    this.#overrun = false;
  }

  #runNext(): void {
    for (let message = this.#waiting.shift(); message !== undefined; message = this.#waiting.shift()) {
      this.#isRunning = true;
      if (!this.#run(programUnits(message), [])) return;
    }
    this.#isRunning = false;
  }

  /** Runs units until one has to wait for a conversion; false then, and it goes on by itself. */
  #run(units: readonly ProgramUnit[], answers: readonly string[]): boolean {
    const [unit, ...rest] = units;
    if (!unit) {
      if (answers.length > 0) sendText(this.#options.end, `${answers.join(';')}\n`);
      return true;
    }
    const outcome = this.#runUnit(unit);
    if (outcome === null) return this.#run(rest, answers);
    if ('answer' in outcome) return this.#run(rest, [...answers, outcome.answer]);
    this.#cancelConversion = this.#options.clock.after(this.#options.conversionMs ?? 100, () => {
      this.#lastReading = this.#convert();
      const told = outcome.convert === 'answer' ? [...answers, nr3(this.#lastReading)] : answers;
      if (this.#run(rest, told)) this.#runNext();
    });
    return false;
  }

  #runUnit({ header, isQuery, parameters }: ProgramUnit): Outcome {
    const command = this.#commands.find((each) => each.isQuery === isQuery && each.fits(header));
    if (!command) return this.#fail(-113);
    if (parameters.length > command.most) return this.#fail(-108);
    return command.run(parameters);
  }

  #fail(number: ScpiErrorNumber): null {
    this.#errors.push(number);
    this.#eventStatus |= eventBitOf(number);
    return null;
  }

  #reset(): void {
    this.#function = firstFunction();
    this.#range = null;
    this.#lastReading = null;
  }

  /** The reading with noise of about a third of a digit, in whole digits. */
  #convert(): number {
    const { measures, ranges } = this.#function;
    const value = this.#options.measure(measures);
    if (value === null) return measures === 'ohms' ? OVERLOAD : NOT_A_NUMBER;
    const range = rangeFor(this.#range === null ? ranges : [this.#range], value);
    if (range === null) return value < 0 ? -OVERLOAD : OVERLOAD;
    const digit = this.#options.digit?.(measures) ?? digitOn(range);
    const shown =
      value * (1 + (this.#options.gainError?.(measures) ?? 0)) + 0.3 * digit * this.#options.random.normal();
    return Math.round(shown / digit) * digit;
  }

  #configure(meterFunction: MeterFunction, parameters: readonly string[]): boolean {
    const range = this.#rangeFrom(meterFunction, parameters[0] ?? 'AUTO');
    if (range === undefined) return false;
    this.#function = meterFunction;
    this.#range = range;
    this.#lastReading = null;
    return true;
  }

  /** Undefined after a wrong parameter, which is then in the error queue. */
  #rangeFrom({ ranges }: MeterFunction, parameter: string): number | null | undefined {
    const word = parameter.toUpperCase();
    if (word === 'AUTO' || word === 'DEF' || word === 'DEFAULT') return null;
    if (word === 'MIN' || word === 'MINIMUM') return ranges[0];
    if (word === 'MAX' || word === 'MAXIMUM') return ranges.at(-1);
    const asked = /^[+-]?[\d.]/.test(word) ? Number(word) : NaN;
    if (Number.isNaN(asked)) return void this.#fail(/^["']/.test(word) ? -104 : -224);
    const range = ranges.find((each) => each >= asked);
    return range === undefined || asked < 0 ? void this.#fail(-222) : range;
  }

  #commonCommands(): Command[] {
    return [
      query('*IDN', () => SCPI_METER_IDENTITY),
      query('*OPC', () => '1'),
      query('*TST', () => '0'),
      query('*ESR', () => {
        const status = this.#eventStatus;
        this.#eventStatus = 0;
        return String(status);
      }),
      query('*STB', () => String(this.#statusByte())),
      query('*ESE', () => String(this.#eventEnable)),
      query('*SRE', () => String(this.#serviceEnable)),
      command('*ESE', 1, ([value]) => this.#register(value, (mask) => (this.#eventEnable = mask))),
      command('*SRE', 1, ([value]) => this.#register(value, (mask) => (this.#serviceEnable = mask))),
      command('*OPC', 0, () => void (this.#eventStatus |= OPERATION_COMPLETE)),
      command('*WAI', 0, () => undefined),
      command('*RST', 0, () => this.#reset()),
      command('*CLS', 0, () => {
        this.#errors.clear();
        this.#eventStatus = 0;
      }),
    ];
  }

  #systemCommands(): Command[] {
    return [
      query('SYSTem:ERRor[:NEXT]', () => this.#errors.next()),
      query('SYSTem:VERSion', () => '1999.0'),
      command('UNIT[:TEMPerature]', 1, ([unit]) => void (unit?.toUpperCase() === 'C' || this.#fail(-224))),
      command('SYSTem:REMote', 0, () => undefined),
      command('SYSTem:LOCal', 0, () => undefined),
    ];
  }

  #meterCommands(): Command[] {
    const configuring = METER_FUNCTIONS.flatMap((meterFunction): Command[] => [
      command(`CONFigure:${meterFunction.header}`, 2, (given) => void this.#configure(meterFunction, given)),
      asking(`MEASure:${meterFunction.header}`, 2, (given) =>
        this.#configure(meterFunction, given) ? { convert: 'answer' } : null,
      ),
    ]);
    return [
      ...configuring,
      asking('READ', 0, () => ({ convert: 'answer' })),
      asking('FETCh', 0, () =>
        this.#lastReading === null ? this.#fail(-230) : { answer: nr3(this.#lastReading) },
      ),
      {
        fits: headerMatcher('INITiate[:IMMediate]'),
        isQuery: false,
        most: 0,
        run: () => ({ convert: 'keep' }),
      },
      command('ABORt', 0, () => undefined),
      query('CONFigure', () => this.#configuration()),
      query('[SENSe:]FUNCtion[:ON]', () => `"${this.#function.shortName}"`),
      command('[SENSe:]FUNCtion[:ON]', 1, ([name]) => this.#chooseFunction(name)),
    ];
  }

  #chooseFunction(quoted: string | undefined): void {
    if (quoted === undefined) return void this.#fail(-109);
    const wanted = quoted.replace(/^["']|["']$/g, '').toUpperCase();
    const chosen = METER_FUNCTIONS.find(({ header }) => headerMatcher(header)(wanted));
    if (chosen) this.#configure(chosen, []);
    else this.#fail(-224);
  }

  #configuration(): string {
    const range = this.#range ?? this.#function.ranges.at(-1) ?? 0;
    return `"${this.#function.shortName} ${nr3(range)},${nr3(digitOn(range))}"`;
  }

  #statusByte(): number {
    const summary = (this.#eventStatus & this.#eventEnable) === 0 ? 0 : 32;
    return summary | (this.#errors.isEmpty ? 0 : 4);
  }

  #register(text: string | undefined, set: (mask: number) => void): void {
    const mask = Number(text);
    if (text === undefined) this.#fail(-109);
    else if (!Number.isInteger(mask)) this.#fail(-104);
    else if (mask < 0 || mask > 255) this.#fail(-222);
    else set(mask);
  }
}

function firstFunction(): MeterFunction {
  const [first] = METER_FUNCTIONS;
  if (!first) throw new Error('the meter has no functions');
  return first;
}

function command(pattern: string, most: number, act: (parameters: readonly string[]) => void): Command {
  const run = (parameters: readonly string[]): null => {
    act(parameters);
    return null;
  };
  return { fits: headerMatcher(pattern), isQuery: false, most, run };
}

function asking(pattern: string, most: number, run: Command['run']): Command {
  return { fits: headerMatcher(pattern), isQuery: true, most, run };
}

function query(pattern: string, answer: () => string): Command {
  return asking(pattern, 0, () => ({ answer: answer() }));
}
