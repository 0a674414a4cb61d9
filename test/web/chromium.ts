import { existsSync } from 'node:fs';
import { chromium, type Browser } from 'playwright-core';

const PLACES = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome-stable',
  '/usr/bin/google-chrome',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
];

/** The Chromium to test with: CHROMIUM_PATH, or the first one found in the usual places. */
export function chromiumPath(): string {
  const path = process.env['CHROMIUM_PATH'] ?? PLACES.find((place) => existsSync(place));
  if (!path) throw new Error('no Chromium found: install it, or name it in CHROMIUM_PATH');
  return path;
}

/** Starts Chromium without a window, quiet on the network. */
export function startChromium(): Promise<Browser> {
  return chromium.launch({
    executablePath: chromiumPath(),
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });
}
