import { nr3 } from './meter-functions.js';
import type { ScopeCommand, ScopeState } from './scpi-scope-device.js';
import { codeBytes, type ScopeCoupling } from './scpi-scope-sampling.js';
import { asksInput, MOST_SCOPE_POINTS, setInput, takesNumber, takesWord } from './scpi-scope-settings.js';

/** The commands of scopes that answer TRACe? in the data interchange format (SCPI-1999, from memory). */
export function traceCommands(state: ScopeState): ScopeCommand[] {
  const couple = (coupling: ScopeCoupling) => (input: number) => setInput(state, input, { coupling });
  return [
    { header: 'INITiate[:IMMediate]', isQuery: false, run: () => state.arm() },
    { header: 'ABORt', isQuery: false, run: () => state.abort() },
    takesNumber('[SENSe:]SWEep:TIME', 1e-8, 500, (value) => void (state.secondsAcross = value)),
    takesNumber(
      '[SENSe:]SWEep:POINts',
      10,
      MOST_SCOPE_POINTS,
      (value) => void (state.points = Math.round(value)),
    ),
    takesWord('FORMat[:DATA]', {
      'INT,8': () => void (state.bits = 8),
      'INT,16': () => void (state.bits = 16),
      'INTEGER,8': () => void (state.bits = 8),
      'INTEGER,16': () => void (state.bits = 16),
    }),
    takesWord('FORMat:BORDer', {
      NORM: () => void (state.littleEndian = false),
      SWAP: () => void (state.littleEndian = true),
    }),
    takesWord('FORMat:DINTerchange', {
      ON: () => void (state.interchange = true),
      OFF: () => void (state.interchange = false),
    }),
    { header: 'FORMat:DINTerchange', isQuery: true, run: () => (state.interchange ? '1' : '0') },
    takesWord('INPut:COUPling', {
      DC: couple('DC'),
      AC: couple('AC'),
      GRO: couple('GND'),
      GROUND: couple('GND'),
    }),
    takesNumber('INPut:ATTenuation', 0.001, 10_000, (attenuation, input) =>
      setInput(state, input, { attenuation }),
    ),
    asksInput(state, 'INPut:COUPling', ({ coupling }) => (coupling === 'GND' ? 'GRO' : coupling)),
    asksInput(state, 'INPut:ATTenuation', ({ attenuation }) => nr3(attenuation)),
    { header: 'TRACe[:DATA]', isQuery: true, run: (_, parameters) => trace(state, parameters[0]) },
  ];
}

function trace(state: ScopeState, name: string | undefined): Uint8Array | -109 | -224 | -230 {
  if (name === undefined) return -109;
  const input = Number(/^CH(\d)$/i.exec(name)?.[1]);
  if (!state.inputs.has(input)) return -224;
  const sampled = state.sampled?.get(input);
  if (sampled === undefined || sampled.steps !== 2 ** state.bits) return -230;
  const bytes = codeBytes(sampled, state.bits, true, state.littleEndian);
  const digits = String(bytes.length);
  const block = Buffer.concat([Buffer.from(`#${digits.length}${digits}`), bytes]);
  if (!state.interchange) return block;
  const stepSeconds = state.secondsAcross / sampled.codes.length;
  const before =
    `(DIF (VERS 1999.0) IDEN (NAME "CH${input}") ` +
    `ENC (FORM INT${state.bits} BORD ${state.littleEndian ? 'SWAP' : 'NORM'}) ` +
    `DIM=X (TYPE IMPL SCAL ${nr3(stepSeconds)} OFFS ${nr3(-state.secondsAcross / 2)} ` +
    `SIZE ${sampled.codes.length} UNIT "S") ` +
    `DIM=Y (TYPE EXPL SCAL ${nr3(sampled.voltsAStep)} OFFS ${nr3(sampled.middleVolts)} UNIT "V") ` +
    'DATA (CURV (VAL ';
  return Buffer.concat([Buffer.from(before), block, Buffer.from(')))')]);
}
