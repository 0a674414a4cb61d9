import jsqr from 'jsqr';
import { expect, it } from 'vitest';
import { qrLines } from '../../daemon/terminal-qr.js';

// The package exports the function itself; its types say that it is in `default`.
const readQr = jsqr as unknown as typeof jsqr.default;
const PIXELS_A_MODULE = 4;

/** The lines as a camera sees them: a block element of Unicode's is dark where it is filled. */
function picture(lines: readonly string[]): { readonly pixels: Uint8ClampedArray; readonly side: number } {
  const rows = lines.flatMap((line) => {
    const signs = [...line.replace(/\x1b\[[0-9;]*m/g, '')];
    return [signs.map((sign) => '▀█'.includes(sign)), signs.map((sign) => '▄█'.includes(sign))];
  });
  const modules = rows[0]?.length ?? 0;
  const side = modules * PIXELS_A_MODULE;
  const pixels = new Uint8ClampedArray(side * side * 4).fill(255);
  for (let y = 0; y < side; y += 1) {
    for (let x = 0; x < side; x += 1) {
      const isDark = rows[Math.floor(y / PIXELS_A_MODULE)]?.[Math.floor(x / PIXELS_A_MODULE)] === true;
      if (isDark) pixels.fill(0, (y * side + x) * 4, (y * side + x) * 4 + 3);
    }
  }
  return { pixels, side };
}

// jsqr is a reader by others, which shares nothing with what draws the code.
it.each([
  'http://192.168.1.20:8610/enter/aaaaaaaaaaaaaaaaaaaaaaaa',
  'https://[fe80::1234:5678:9abc:def0]:65535/enter/-_-_AZaz09AZaz09AZaz09AZ',
  'http://10.0.0.2:1/enter/ZZZZZZZZZZZZZZZZZZZZZZZZ',
])('a reader of the trade reads %s', (link) => {
  const { pixels, side } = picture(qrLines(link));
  expect(readQr(pixels, side, side, { inversionAttempts: 'dontInvert' })?.data).toBe(link);
});

it('fits a terminal of 80 columns and 24 lines (common practice)', () => {
  const lines = qrLines('http://192.168.100.200:65535/enter/aaaaaaaaaaaaaaaaaaaaaaaa');
  expect(lines.length).toBeLessThanOrEqual(24);
  expect(lines[0]?.length).toBeLessThanOrEqual(80);
});
