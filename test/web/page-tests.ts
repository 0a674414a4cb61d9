import type { Browser, Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, beforeEach, expect } from 'vitest';
import { buildPage } from './built-page.js';
import { startChromium } from './chromium.js';
import { openPage, type OpenPage, type PageWishes } from './open-page.js';

/** How Chromium says that a request was refused, cut or answered with an error. */
const FAILED_REQUEST = /^console: Failed to load resource/;

/** What serves the page to a case. */
export interface PageServer {
  readonly address: string;
  stop(): Promise<void>;
}

/** The wishes of a case with the view that it looks at, such as `#/design`. */
export interface PageAt extends PageWishes {
  readonly at?: string;
}

export interface PageTests {
  /** Opens one more page on the server of the running case. */
  readonly open: (wishes?: PageAt) => Promise<Page>;
  /** Lets requests fail in the running case, which causes that, whenever the browser comes to say so. */
  readonly allowFailedRequests: () => void;
}

/**
 * The built page and Chromium for every case of a file, and a server for each, put away in the end.
 * A case fails when anything went wrong on one of its pages.
 * @param serve starts the server, given the folder of the built page
 */
export function pageTests(serve: (page: string) => Promise<PageServer>): PageTests {
  let built: string;
  let browser: Browser;
  let server: PageServer;
  let opened: OpenPage[];
  let mayRequestsFail: boolean;

  beforeAll(async () => {
    [built, browser] = await Promise.all([buildPage(), startChromium()]);
  });

  afterAll(async () => {
    await browser.close();
  });

  beforeEach(async () => {
    opened = [];
    mayRequestsFail = false;
    server = await serve(built);
  });

  afterEach(async () => {
    for (const { page } of opened) await page.close();
    await server.stop();
    const problems = opened.flatMap((one) => one.problems);
    expect(mayRequestsFail ? problems.filter((one) => !FAILED_REQUEST.test(one)) : problems).toEqual([]);
  });

  return {
    async open({ at = '', ...wishes } = {}) {
      const one = await openPage(browser, `${server.address}${at}`, wishes);
      opened.push(one);
      return one.page;
    },
    allowFailedRequests() {
      mayRequestsFail = true;
    },
  };
}
