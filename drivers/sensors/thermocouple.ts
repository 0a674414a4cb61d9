import { polynomial, polynomialSlope } from './polynomial.js';
import {
  THERMOCOUPLES,
  type Piece,
  type ThermocoupleTable,
  type ThermocoupleType,
} from './thermocouple-tables.js';

const MOST_STEPS = 8;
const CLOSE_ENOUGH = 1e-9;

/**
 * The millivolts of a thermocouple whose other end is at 0 degrees C (IEC 60584-1 reference function). Null outside
 * the function's range.
 */
export function thermocoupleMillivolts(type: ThermocoupleType, temperature: number): number | null {
  const table = THERMOCOUPLES[type];
  const piece = pieceAt(table.reference, temperature);
  return piece === undefined ? null : referenceMillivolts(table, piece, temperature);
}

/**
 * The temperature at which a thermocouple with its other end at 0 degrees C gives these millivolts: the printed
 * inverse polynomial, then Newton's steps on the reference function, so that both directions agree to a microkelvin.
 * Null outside the inverse's range.
 */
export function thermocoupleTemperature(type: ThermocoupleType, millivolts: number): number | null {
  const table = THERMOCOUPLES[type];
  const inverse = pieceAt(table.inverse, millivolts);
  if (inverse === undefined) return null;
  let temperature = polynomial(inverse.coefficients, millivolts);
  for (let steps = 0; steps < MOST_STEPS; steps += 1) {
    const piece = nearestPiece(table.reference, temperature);
    const excess = referenceMillivolts(table, piece, temperature) - millivolts;
    const change = excess / referenceSlope(table, piece, temperature);
    temperature -= change;
    if (Math.abs(change) < CLOSE_ENOUGH) break;
  }
  return temperature;
}

/**
 * The temperature of the hot end from the measured millivolts and the temperature where the wires end: millivolts add
 * up, temperatures don't. Null when either end is outside the range.
 */
export function hotEndTemperature(
  type: ThermocoupleType,
  millivolts: number,
  coldJunction: number,
): number | null {
  const coldMillivolts = thermocoupleMillivolts(type, coldJunction);
  return coldMillivolts === null ? null : thermocoupleTemperature(type, millivolts + coldMillivolts);
}

function pieceAt(pieces: readonly Piece[], x: number): Piece | undefined {
  return pieces.find(({ from, to }) => x >= from && x <= to);
}

/** The piece for a value that rounding may have carried past the last one's end. */
function nearestPiece(pieces: readonly Piece[], x: number): Piece {
  return pieces.find(({ to }) => x <= to) ?? (pieces[pieces.length - 1] as Piece);
}

function referenceMillivolts({ bell }: ThermocoupleTable, piece: Piece, temperature: number): number {
  const sum = polynomial(piece.coefficients, temperature);
  if (bell === undefined || temperature <= 0) return sum;
  return sum + bell.height * Math.exp(bell.rate * (temperature - bell.centre) ** 2);
}

function referenceSlope({ bell }: ThermocoupleTable, piece: Piece, temperature: number): number {
  const slope = polynomialSlope(piece.coefficients, temperature);
  if (bell === undefined || temperature <= 0) return slope;
  const distance = temperature - bell.centre;
  return slope + 2 * bell.rate * distance * bell.height * Math.exp(bell.rate * distance ** 2);
}
