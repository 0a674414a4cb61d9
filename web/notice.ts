import type { AlarmView } from '../daemon/serve/messages.js';

/** Whether the browser tells of alarms while its tab is in the background; `never` where it can't. */
export function noticeState(): 'on' | 'off' | 'refused' | 'never' {
  if (!('Notification' in window)) return 'never';
  const { permission } = Notification;
  return permission === 'granted' ? 'on' : permission === 'denied' ? 'refused' : 'off';
}

/** Asks the person once; a browser does so only while it handles a press. */
export async function askForNotices(): Promise<void> {
  if (noticeState() === 'off') await Notification.requestPermission();
}

/** Tells of each alarm once, while nobody can see the page. */
export class Notices {
  #told = new Set<string>();

  update(alarms: readonly AlarmView[]): void {
    const raised = alarms.filter(({ state }) => state === 'unacknowledged');
    if (document.hidden && noticeState() === 'on') {
      for (const alarm of raised) if (!this.#told.has(alarm.id)) tell(alarm);
    }
    this.#told = new Set(raised.map(({ id }) => id));
  }
}

function tell({ id, sentence, cure, priority }: AlarmView): void {
  const notice = new Notification(sentence, { body: cure, tag: id, requireInteraction: priority === 'high' });
  notice.onclick = () => {
    window.focus();
    notice.close();
  };
}
