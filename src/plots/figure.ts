import { checkOptional, checkText, type Scope } from '../internal/check.js'
import { finiteResult } from '../internal/finite-result.js'
import type {
  PlotFrame,
  PlotLayer,
  PlotPanel,
  StackedSpecification,
  VegaLiteSpecification,
} from './vega-lite-specification.js'

/** What every figure lets one choose. */
export interface FigureOptions {
  /** Heading of the figure. @defaultValue what it shows, in words */
  readonly title?: string
  /** Width of the plotting area [px], 50 to 10 000. @defaultValue 560 */
  readonly width?: number
  /** Height of the plotting area [px], 50 to 10 000. @defaultValue 360 */
  readonly height?: number
}

/** Keys of {@link FigureOptions}. */
export function figureKeys(): string[] {
  return ['title', 'width', 'height']
}

/** A figure of given layers; `notes` say what it leaves out. */
export function figure(
  scope: Scope,
  options: FigureOptions,
  title: string,
  notes: readonly string[],
  layer: PlotLayer[],
): VegaLiteSpecification {
  return { ...frame(scope, options, title, notes), ...panel(scope, options, 360, layer) }
}

/** A figure of several plotting areas, one beneath the other; `height` is that of each. */
export function stackedFigure(
  scope: Scope,
  options: FigureOptions,
  title: string,
  notes: readonly string[],
  panels: readonly PlotLayer[][],
): StackedSpecification {
  return {
    ...frame(scope, options, title, notes),
    vconcat: panels.map((layer) => panel(scope, options, 200, layer)),
  }
}

function panel(scope: Scope, options: FigureOptions, height: number, layer: PlotLayer[]): PlotPanel {
  for (const { data } of layer) {
    for (const row of data.values) {
      for (const value of Object.values(row)) if (typeof value === 'number') finiteResult(scope, 'point', value)
    }
  }
  return { width: widthOf(scope, options), height: pixels(scope, 'height', options.height, height), layer }
}

/** Width of the plotting area of a figure [px]. */
export function widthOf(scope: Scope, options: FigureOptions): number {
  return pixels(scope, 'width', options.width, 560)
}

function pixels(scope: Scope, key: string, value: unknown, fallback: number): number {
  return checkOptional(scope, key, value, { unit: 'px', atLeast: 50, atMost: 10000 }, fallback)
}

function frame(scope: Scope, options: FigureOptions, title: string, notes: readonly string[]): PlotFrame {
  const subtitle = notes.join('; ')
  return {
    $schema: 'https://vega.github.io/schema/vega-lite/v6.json',
    title: {
      text: checkText(scope, 'title', options.title ?? title),
      ...(subtitle === '' ? {} : { subtitle }),
      anchor: 'start',
      fontSize: 14,
      subtitleColor: '#555555',
    },
    config: {
      background: '#ffffff',
      font: 'sans-serif',
      view: { stroke: null },
      axis: {
        gridColor: '#e4e4e4',
        domainColor: '#555555',
        tickColor: '#555555',
        labelColor: '#222222',
        titleColor: '#222222',
        titleFontWeight: 'normal',
        labelFontSize: 11,
        titleFontSize: 12,
      },
    },
  }
}

/** `3 points` or `1 point`, with what happened to them; nothing for none. */
export function note(count: number, what: string, happened: string): string[] {
  return count === 0 ? [] : [`${count} ${what}${count === 1 ? '' : 's'} ${happened}`]
}
