/** The colours of the page as the chart needs them. */
export interface ChartColours {
  readonly ink: string;
  readonly quiet: string;
  readonly edge: string;
  readonly sheet: string;
  readonly measured: string;
  readonly band: string;
  readonly bandEdge: string;
  readonly limit: string;
  readonly forecast: string;
  readonly fan: string;
  readonly wash: string;
  readonly fontFamily: string;
  /** Grows with the page's text, in CSS pixels. */
  readonly fontSizePx: number;
}

/** Reads the colours that hold for `element` now: light, dark or forced by the system. */
export function chartColours(element: Element): ChartColours {
  const style = getComputedStyle(element);
  const read = (name: string): string => style.getPropertyValue(name).trim();
  return {
    ink: read('--ink'),
    quiet: read('--quiet'),
    edge: read('--edge'),
    sheet: read('--sheet'),
    measured: read('--measured'),
    band: read('--band'),
    bandEdge: read('--band-edge'),
    limit: read('--outside'),
    forecast: read('--forecast'),
    fan: read('--fan'),
    wash: read('--wash'),
    fontFamily: style.fontFamily,
    fontSizePx: Math.round(parseFloat(style.fontSize) * 0.8),
  };
}
