import { z } from 'zod';
import { between, group, notNegative, partName, positive } from './allowed.js';

/** One number moves the whole spread of the part that it is like; low, typical and high replace it. */
function spread(of: string) {
  const error = `a number of ${of}, or low, typical and high,`;
  const value = notNegative(of);
  return z.union([value, group(error, { low: value, typical: value, high: value })], { error }).optional();
}

const like = (what: string) =>
  partName(what).describe("part of the library that it is closest to; what isn't written here comes from it");

const regulatorPart = group('a regulator with like', {
  like: like('the name of the regulator that it is like, LM317 for example'),
  volts: spread('volts').describe('reference of an adjustable one, output of a fixed one'),
  adjust_amps: spread('amps').describe('out of the adjust pin'),
  dropout: spread('volts').describe('least input minus output'),
  dropout_at_amps: positive('amps').optional().describe('output current at which the dropout is stated'),
  rejection_dB: spread('dB').describe('of ripple at twice the mains frequency'),
  rejection_at_volts: positive('volts').optional().describe('output at which the rejection is stated'),
  rejection_with_capacitor_dB: spread('dB').describe('with 10 uF from adjust to ground'),
  minimum_load: spread('amps').describe("load below which the output isn't held"),
  quiescent_amps: spread('amps').describe('out of the ground pin of a fixed one'),
  rated_amps: positive('amps').optional(),
  junction_operating: between(50, 250, 'degrees C').optional(),
  junction_absolute: between(50, 250, 'degrees C').optional(),
  highest_input: positive('volts').optional().describe('input to ground'),
  highest_difference: positive('volts').optional().describe('input to output'),
});

const curvePoint = z.tuple([positive('volts'), positive('amps')], {
  error: 'a pair of volts and amps such as [0.9, 1]',
});

const diodePart = group('a diode with like', {
  like: like('the name of the diode that it is like, 1N4007 for example'),
  curve: z
    .tuple([curvePoint, curvePoint], { error: 'two pairs of volts and amps such as [[0.8, 1], [1, 6]]' })
    .optional()
    .describe('two points of the forward curve: [[volts, amps], [volts, amps]]'),
  reverse_volts: positive('volts').optional().describe('repetitive peak'),
  surge_amps: positive('amps').optional().describe('one mains half-cycle'),
  rated_amps: positive('amps').optional().describe('mean rectified current of the whole bridge'),
});

const packagePart = group('a package with like', {
  like: like('the name of the package that it is like, TO-220 for example'),
  junction_case: spread('K/W').describe('junction to case'),
  junction_air: spread('K/W').describe('junction to still air without a heatsink'),
  case_heat_capacity: spread('J/K').describe('of the case'),
});

const partKey = z
  .string()
  .max(40, 'a part name of at most 40 characters')
  .regex(/^[A-Za-z0-9][A-Za-z0-9+/_-]*$/, 'a part name of letters, digits and hyphens');

/** Parts of the user's own, by name. */
export const partsSchema = group('parts with regulators, diodes or packages', {
  regulators: z.record(partKey, regulatorPart, { error: 'a group of named regulators' }).default({}),
  diodes: z.record(partKey, diodePart, { error: 'a group of named diodes' }).default({}),
  packages: z.record(partKey, packagePart, { error: 'a group of named packages' }).default({}),
}).describe("parts that the library doesn't have, each like one that it has");

export type OwnParts = z.output<typeof partsSchema>;
export type OwnRegulator = OwnParts['regulators'][string];
export type OwnDiode = OwnParts['diodes'][string];
export type OwnPackage = OwnParts['packages'][string];
