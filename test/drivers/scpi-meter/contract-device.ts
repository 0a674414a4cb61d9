import { scpiMeter } from '../../../drivers/scpi-meter/scpi-meter.js';
import type { DeviceSurroundings, DriverContract, GoodDevice } from '../stage.js';

/** Answers each question 20 ms after it was asked; its readings never come twice. */
function meter({ clock, say, promise, onHeard }: DeviceSurroundings, identity: string): GoodDevice {
  let awake = false;
  let channel = '';
  let readings = 0;
  function answerTo(question: string): string | null {
    if (question === '*IDN?') return identity;
    if (question === 'SYST:ERR?') return '+0,"No error"';
    if (question === 'CONF:VOLT:DC') channel = 'logic.volts';
    if (question === 'CONF:TEMP') channel = 'logic.case';
    if (question !== 'READ?') return null;
    readings += 1;
    const volts = `+1.2${String(readings).padStart(5, '0')}E+01`;
    promise(channel, Number(volts));
    return volts;
  }
  onHeard((text) => {
    const questions = text.split('\n').filter((question) => question !== '');
    for (const question of questions) {
      clock.after(20, () => {
        const answer = awake ? answerTo(question) : null;
        if (answer !== null) say(`${answer}\n`);
      });
    }
  });
  return { wake: () => void (awake = true), sleep: () => void (awake = false) };
}

export const CONTRACT: DriverContract = {
  driver: scpiMeter,
  options: { interval_ms: 200 },
  channels: [
    { name: 'logic.volts', measures: 'dc-volts' },
    { name: 'logic.case', measures: 'temperature' },
  ],
  device: (around) => meter(around, 'SIGNAL CABIN,BENCH METER,0,1.0'),
  otherDevice: (around) => meter(around, 'SIGNAL CABIN,OTHER METER,0,1.0'),
  otherDeviceFault: 'wrong-device',
  longestFrameBytes: 'SIGNAL CABIN,BENCH METER,0,1.0\n'.length,
};
