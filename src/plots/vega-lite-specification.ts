/** Row of the data of a figure. */
export type PlotRow = Readonly<Record<string, number | string>>

/** Rows that stand in the specification itself. */
export interface InlineData {
  readonly values: PlotRow[]
}

/** Scale from values to positions or colours. */
export interface PlotScale {
  readonly type?: 'log' | 'linear' | 'ordinal'
  readonly domain?: number[] | string[]
  readonly range?: string[] | number[][]
  readonly rangeMax?: number
  readonly nice?: boolean
  readonly zero?: boolean
  /** Named row of colours that rise in lightness alone. */
  readonly scheme?: 'cividis'
}

/** Axis of a figure. */
export interface PlotAxis {
  readonly title: string
  readonly format?: string
  readonly labelOverlap?: 'greedy'
  readonly labelSeparation?: number
  readonly labelAngle?: number
  readonly labelLimit?: number
}

/** Legend of a figure. */
export interface PlotLegend {
  readonly title: string | null
  readonly orient: 'bottom' | 'right'
  readonly direction?: 'vertical' | 'horizontal'
  readonly symbolType?: 'stroke'
  readonly symbolSize?: number
  readonly symbolStrokeWidth?: number
  readonly symbolLimit?: number
  readonly labelLimit?: number
}

/** What a channel of a mark shows: a field of the rows, or one value. */
export interface PlotChannel {
  readonly field: string
  readonly type: 'quantitative' | 'nominal' | 'ordinal'
  readonly scale?: PlotScale
  readonly axis?: PlotAxis
  readonly legend?: PlotLegend | null
}

/** Channels of a layer. */
export interface PlotEncoding {
  readonly x?: PlotChannel
  readonly y?: PlotChannel
  readonly y2?: { readonly field: string }
  readonly color?: PlotChannel
  readonly size?: PlotChannel
  readonly strokeDash?: PlotChannel
  readonly detail?: { readonly field: string; readonly type: 'nominal' }
  readonly order?: { readonly field: string; readonly type: 'quantitative' }
  readonly text?: { readonly field: string; readonly type: 'nominal' }
}

/** How a layer is drawn. */
export interface PlotMark {
  readonly type: 'line' | 'rule' | 'point' | 'text' | 'area' | 'rect'
  readonly clip?: boolean
  readonly color?: string
  readonly strokeWidth?: number
  readonly strokeDash?: number[]
  readonly shape?: string
  readonly size?: number
  readonly filled?: boolean
  readonly opacity?: number
  readonly align?: 'left'
  readonly baseline?: 'middle' | 'bottom'
  readonly dx?: number
  readonly fontSize?: number
}

/** One layer of a figure. */
export interface PlotLayer {
  readonly data: InlineData
  readonly mark: PlotMark
  readonly encoding: PlotEncoding
}

/** Look of a figure. */
export interface PlotConfig {
  readonly background: string
  readonly font: string
  readonly view: { readonly stroke: null }
  readonly axis: {
    readonly gridColor: string
    readonly domainColor: string
    readonly tickColor: string
    readonly labelColor: string
    readonly titleColor: string
    readonly titleFontWeight: 'normal'
    readonly labelFontSize: number
    readonly titleFontSize: number
  }
}

/** Plotting area with its layers. */
export interface PlotPanel {
  /** [px] */
  readonly width: number
  /** [px] */
  readonly height: number
  readonly layer: PlotLayer[]
}

/** What every figure carries besides its plotting areas. */
export interface PlotFrame {
  /** Name of the grammar and its version. */
  readonly $schema: string
  readonly title: {
    readonly text: string
    /** What the figure leaves out, if anything. */
    readonly subtitle?: string
    readonly anchor: 'start'
    readonly fontSize: number
    readonly subtitleColor: string
  }
  readonly config: PlotConfig
}

/** A figure as a Vega-Lite specification of version 6: a plain object with its data, for any renderer of that grammar. */
export interface VegaLiteSpecification extends PlotFrame, PlotPanel {}

/** A figure of several plotting areas, one beneath the other, as a Vega-Lite specification of version 6. */
export interface StackedSpecification extends PlotFrame {
  readonly vconcat: PlotPanel[]
}
