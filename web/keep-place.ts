/**
 * When the button under the keyboard has gone or can't be pressed any more, the nearest heading takes its place, so that
 * nobody is thrown back to the top of the page.
 * @param path from the button outwards
 * @returns the path that counts from now on
 */
export function keepPlace(path: readonly EventTarget[]): readonly EventTarget[] {
  const [button] = path;
  const isLost =
    button instanceof Element && (button.getClientRects().length === 0 || button.matches(':disabled'));
  if (!isLost || document.activeElement !== document.body) return path;
  for (const around of path) {
    if (!(around instanceof Node && around.isConnected && 'querySelector' in around)) continue;
    const heading = (around as ParentNode).querySelector<HTMLElement>('h2, h3, .view');
    if (heading === null) continue;
    heading.tabIndex = -1;
    heading.focus();
    return [];
  }
  return path;
}
