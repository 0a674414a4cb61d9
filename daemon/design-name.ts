import { parse } from 'yaml';

/** What the design calls itself, if its text can still be read. */
export function designName(text: string): string | null {
  try {
    const found: unknown = parse(text);
    const name = typeof found === 'object' && found !== null && 'design' in found ? found.design : null;
    return typeof name === 'string' ? name : null;
  } catch {
    return null;
  }
}
