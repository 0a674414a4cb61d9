import { readYaml } from './design/yaml-text.js';

/** What the design calls itself, if its text can still be read. */
export function designName(text: string): string | null {
  try {
    const found: unknown = readYaml(text, 'design').value;
    const name = typeof found === 'object' && found !== null && 'design' in found ? found.design : null;
    return typeof name === 'string' ? name : null;
  } catch {
    return null;
  }
}
