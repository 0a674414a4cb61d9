import { describe, expect, it } from 'vitest';
import { serialTroubleInWords } from '../../../drivers/links/serial-trouble.js';

describe('serialTroubleInWords', () => {
  // The left column is what @serialport/bindings-cpp 13.0.0 said on Debian 12 and, for access denied, on Windows.
  it.each([
    ['Error: No such file or directory, cannot open /dev/ttyUSB9', /is not there; plug the device in/],
    ['Error Resource temporarily unavailable Cannot lock port', /is in use by another program/],
    ['Error: Permission denied, cannot open /dev/ttyUSB9', /no permission .* group dialout/],
    ['Opening COM3: Access denied', /no permission/],
    ['Error: Inappropriate ioctl for device, cannot open /tmp/x', /is not a serial port/],
    ['Error: Input/output error setting custom baud rate of 12345', /does not take this baud rate/],
  ])('puts %j in plain words with the cure', async (said, words) => {
    const cause = new Error(said);
    const told = await serialTroubleInWords('/dev/ttyUSB9', cause);
    expect(told.message).toMatch(words);
    expect(told.message).toContain('/dev/ttyUSB9');
    expect(told.cause).toBe(cause);
  });

  it('passes on what it does not know', async () => {
    const told = await serialTroubleInWords('COM3', new Error('gone fishing'));
    expect(told.message).toMatch(/COM3 .*gone fishing/);
  });
});
