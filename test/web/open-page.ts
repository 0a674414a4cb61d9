import type { Browser, Page } from 'playwright-core';

/** A page under test with everything that went wrong on it, in words. */
export interface OpenPage {
  readonly page: Page;
  readonly problems: string[];
}

export interface PageWishes {
  readonly width?: number;
  readonly height?: number;
  readonly colorScheme?: 'light' | 'dark';
  readonly forcedColors?: 'active' | 'none';
}

/** A refused connection is what these tests cause on purpose; the browser reports it as an error. */
const ON_PURPOSE = /WebSocket connection to/;

/** Opens `address` and notes console errors, uncaught errors and breaches of the content security policy. */
export async function openPage(
  browser: Browser,
  address: string,
  wishes: PageWishes = {},
): Promise<OpenPage> {
  const { width = 1280, height = 800, colorScheme = 'light', forcedColors = 'none' } = wishes;
  const page = await browser.newPage({ viewport: { width, height }, colorScheme, forcedColors });
  const problems: string[] = [];
  page.on('pageerror', (error) => problems.push(`uncaught: ${error.message}`));
  page.on('console', (message) => {
    if (!['error', 'warning'].includes(message.type()) || ON_PURPOSE.test(message.text())) return;
    problems.push(`console: ${message.text()}`);
  });
  await page.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', (event) => {
      console.error(`policy: ${event.violatedDirective} ${event.blockedURI} ${event.sample}`);
    });
  });
  await page.goto(address);
  return { page, problems };
}
