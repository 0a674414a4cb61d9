import type { Page } from 'playwright-core';
import type { Preferences } from '../../web/preferences.js';

interface VoiceWindow {
  readonly heard: string[];
  endSentence(): void;
}

/**
 * Gives the page a voice that says one sentence until it is told to end it (Web Speech API: `speak` queues, `cancel`
 * empties the queue and ends what is being said with an error), and opens the page anew with these preferences.
 */
export async function giveVoice(page: Page, preferences: Partial<Preferences>): Promise<void> {
  await page.addInitScript((kept) => {
    localStorage.setItem('railminder.preferences', JSON.stringify(kept));
    const heard: string[] = [];
    let queue: SpeechSynthesisUtterance[] = [];
    const begin = (): void => void (queue[0] && heard.push(queue[0].text));
    const value = {
      getVoices: () => [{}],
      get speaking() {
        return queue.length > 0;
      },
      get pending() {
        return queue.length > 1;
      },
      speak(utterance: SpeechSynthesisUtterance) {
        queue.push(utterance);
        if (queue.length === 1) begin();
      },
      cancel() {
        const cut = queue;
        queue = [];
        for (const utterance of cut) utterance.dispatchEvent(new Event('error'));
      },
    };
    Object.defineProperty(window, 'speechSynthesis', { value });
    const endSentence = (): void => {
      const done = queue.shift();
      begin();
      done?.dispatchEvent(new Event('end'));
    };
    Object.assign(window, { heard, endSentence });
  }, preferences);
  await page.reload();
  await page.locator('rm-glance .sentence').waitFor();
}

/** Every sentence that has begun to be said, oldest first. */
export function heard(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => (window as unknown as VoiceWindow).heard);
}

/** Lets the voice come to the end of its sentence. */
export async function endSentence(page: Page): Promise<void> {
  await page.evaluate(() => (window as unknown as VoiceWindow).endSentence());
}

/** Lets the voice say everything that it has left to say. */
export async function hearAll(page: Page): Promise<readonly string[]> {
  await page.evaluate(() => {
    while (speechSynthesis.speaking) (window as unknown as VoiceWindow).endSentence();
  });
  return heard(page);
}
