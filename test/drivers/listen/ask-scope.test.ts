import { describe, expect, it } from 'vitest';
import { askScope } from '../../../drivers/listen/ask-scope.js';
import { fakePlace } from './fake-ear.js';

const ERROR = '-113,"Undefined header"';

/** Answers these, and with a queued error keeps silent about anything else. */
function device(answers: Readonly<Record<string, string>>) {
  let errors = 0;
  return fakePlace((bytes) => {
    const question = bytes.toString().trim();
    if (question === 'SYST:ERR?') {
      errors -= 1;
      return errors >= 0 ? `${ERROR}\n` : '0,"No error"\n';
    }
    const answer = answers[question];
    if (answer === undefined) errors += 1;
    return answer === undefined ? null : `${answer}\n`;
  });
}

describe('askScope', () => {
  it('finds a scope by its answers, with the inputs that it has', async () => {
    const answers = { ':CHAN1:COUP?': 'DC', ':CHAN1:PROB?': '+1.0E+01', ':CHAN2:COUP?': 'AC' };
    expect(await askScope(device(answers).asking)).toEqual({ dialect: 'ten-field', inputs: [1, 2] });
  });

  it('finds one of the data interchange format', async () => {
    const answers = { 'INP1:COUP?': 'DC', 'INP1:ATT?': '10', 'FORM:DINT?': '1' };
    expect(await askScope(device(answers).asking)).toEqual({ dialect: 'trace-dif', inputs: [1] });
  });

  it.each([
    ['a meter', { 'READ?': '12.06', 'CONF?': '"VOLT +1.0E+01,+3.0E-06"' }],
    // Counters have a coupling and an attenuation at their inputs (SCPI-1999 volume 2, INPut).
    ['a counter', { 'INP1:COUP?': 'AC', 'INP1:ATT?': '1', 'CONF?': '"FREQ"' }],
    ['a probe factor of nonsense', { ':CHAN1:COUP?': 'DC', ':CHAN1:PROB?': 'X10' }],
    ['a coupling of nonsense', { ':CHAN1:COUP?': '1M', ':CHAN1:PROB?': '10' }],
  ])('takes %s for none', async (_, answers) => {
    expect(await askScope(device(answers).asking)).toBeNull();
  });

  it('takes one that says who it is whatever it is asked for none', async () => {
    expect(await askScope(fakePlace(() => 'SIGNAL CABIN,METER,0,1.0\n').asking)).toBeNull();
  });

  it('sends questions only, and takes the errors that they left out of the queue', async () => {
    const { asking, asked } = device({});
    await askScope(asking);
    const questions = asked.map((question) => question.toString());
    expect(questions.every((question) => /^[^;\s]+\?\n$/.test(question))).toBe(true);
    const others = questions.filter((question) => question !== 'SYST:ERR?\n');
    expect(questions.length - others.length).toBe(others.length);
  });
});
