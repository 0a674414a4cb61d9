import alarmIcon from './icons/alarm.svg';
import lostIcon from './icons/lost.svg';
import wellIcon from './favicon.svg';
import { isAside } from './alarm-order.js';
import type { PageState } from './session-state.js';

/** What the tab's icon shows, by shape: well, an alarm, or that the bench isn't heard. */
export function pageIcon({ link, alarms }: Pick<PageState, 'link' | 'alarms'>): 'well' | 'alarm' | 'lost' {
  if (link.kind !== 'live') return 'lost';
  return alarms.some((alarm) => alarm.state !== 'normal' && !isAside(alarm)) ? 'alarm' : 'well';
}

const ICONS = { well: wellIcon, alarm: alarmIcon, lost: lostIcon } as const;

/** Puts it on the tab. */
export function showIcon(icon: keyof typeof ICONS): void {
  const link = document.querySelector<HTMLLinkElement>('link[rel="icon"]');
  if (link && link.dataset['shows'] !== icon) {
    link.href = ICONS[icon];
    link.dataset['shows'] = icon;
  }
}
