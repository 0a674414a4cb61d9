import { nr3 } from './meter-functions.js';
import type { ScopeCommand, ScopeState } from './scpi-scope-device.js';
import { codeBytes, type Sampled, type ScopeCoupling } from './scpi-scope-sampling.js';
import { asksInput, MOST_SCOPE_POINTS, setInput, takesNumber, takesWord } from './scpi-scope-settings.js';

/** The commands of scopes that answer with a preamble of ten fields and a block. */
export function tenFieldCommands(state: ScopeState): ScopeCommand[] {
  const couple = (coupling: ScopeCoupling) => (input: number) => setInput(state, input, { coupling });
  return [
    { header: 'SINGle', isQuery: false, run: () => state.arm() },
    { header: 'STOP', isQuery: false, run: () => state.abort() },
    takesNumber('TIMebase:SCALe', 1e-9, 50, (value) => void (state.secondsAcross = 10 * value)),
    takesNumber('WAVeform:POINts', 10, MOST_SCOPE_POINTS, (value) => void (state.points = Math.round(value))),
    takesWord('WAVeform:POINts:MODE', { NORM: () => undefined, NORMAL: () => undefined }),
    takesWord('WAVeform:FORMat', {
      BYTE: () => void (state.bits = 8),
      WORD: () => void (state.bits = 16),
    }),
    takesWord('WAVeform:UNSigned', {
      ON: () => void (state.signed = false),
      OFF: () => void (state.signed = true),
    }),
    takesWord('WAVeform:BYTeorder', {
      LSBF: () => void (state.littleEndian = true),
      MSBF: () => void (state.littleEndian = false),
    }),
    takesWord(
      'WAVeform:SOURce',
      Object.fromEntries(
        [...state.inputs.keys()].flatMap((input) =>
          [`CHAN${input}`, `CHANNEL${input}`].map((word) => [word, () => void (state.source = input)]),
        ),
      ),
    ),
    takesWord('CHANnel:COUPling', {
      DC: couple('DC'),
      AC: couple('AC'),
      GND: couple('GND'),
    }),
    takesNumber('CHANnel:PROBe', 0.001, 10_000, (attenuation, input) =>
      setInput(state, input, { attenuation }),
    ),
    takesNumber('CHANnel:SCALe', 1e-4, 1000, (scale, input) => setInput(state, input, { scale })),
    takesNumber('CHANnel:OFFSet', -10_000, 10_000, (middle, input) => setInput(state, input, { middle })),
    asksInput(state, 'CHANnel:COUPling', ({ coupling }) => coupling),
    asksInput(state, 'CHANnel:PROBe', ({ attenuation }) => nr3(attenuation)),
    {
      header: 'WAVeform:PREamble',
      isQuery: true,
      run: () => withSamples(state, (found) => preamble(state, found)),
    },
    { header: 'WAVeform:DATA', isQuery: true, run: () => withSamples(state, (found) => block(state, found)) },
  ];
}

function withSamples<Answer>(state: ScopeState, answer: (sampled: Sampled) => Answer): Answer | -230 {
  const sampled = state.sampled?.get(state.source);
  return sampled === undefined || sampled.steps !== 2 ** state.bits ? -230 : answer(sampled);
}

function preamble(state: ScopeState, { codes, middleVolts, steps, voltsAStep }: Sampled): string {
  const stepSeconds = state.secondsAcross / codes.length;
  const fields = [
    stepSeconds,
    -state.secondsAcross / 2,
    0,
    voltsAStep,
    middleVolts,
    state.signed ? 0 : steps / 2,
  ];
  return [state.bits === 8 ? '+0' : '+1', '+0', `+${codes.length}`, '+1', ...fields.map(nr3)].join(',');
}

function block(state: ScopeState, sampled: Sampled): Uint8Array {
  const bytes = codeBytes(sampled, state.bits, state.signed, state.littleEndian);
  return Buffer.concat([Buffer.from(`#8${String(bytes.length).padStart(8, '0')}`), bytes]);
}
