// Types of the parts of the demonstration, which is plain JavaScript.

declare module '*/docs/examples/demo/options.js' {
  import type { Criterion } from 'restmass'
  export interface DemoOptions {
    readonly criterion: Criterion
    readonly file: string | null
    readonly rate?: number
    readonly column?: string
    readonly quantity?: 'velocity' | 'acceleration'
  }
  export function parseOptions(words: readonly string[]): DemoOptions
}

declare module '*/docs/examples/sweep/design-point.js' {
  export type DesignPoint = {
    readonly stiffness: number
    readonly gain: number
    readonly delay: number
  }
  export function grid(steps: readonly [number, number, number]): { readonly [K in keyof DesignPoint]: number[] }
  export function evaluate(point: DesignPoint): {
    readonly closedLoop: string
    readonly gainMargin: number | null
    readonly modulusMargin: number
    readonly payloadRms: number | null
  }
}

declare module '*/docs/examples/demo/read-record.js' {
  export function readRecord(text: string, column: string): Float64Array
}

declare module '*/docs/examples/demo/floor-record.js' {
  export interface FloorParameters {
    readonly seed: number
    readonly sampleRate: number
    readonly duration: number
  }
  export const inventedFloor: FloorParameters
  export function floorRecord(parameters: FloorParameters): Float64Array
}

declare module '*/docs/examples/demo/floor-spectrum.js' {
  import type { Spectrum } from 'restmass'
  export function floorSpectrum(record: {
    readonly samples: Float64Array
    readonly sampleRate: number
    readonly quantity: 'velocity' | 'acceleration'
  }): {
    readonly spectrum: Spectrum
    readonly segment: number
    readonly averages: number
    readonly roughBands: readonly { readonly nominal: number; readonly lines: number }[]
  }
}

declare module '*/docs/examples/demo/candidates.js' {
  import type { IsolationModel } from 'restmass'
  export function candidates(): { readonly name: string; readonly what: string; readonly model: IsolationModel }[]
}

declare module '*/docs/examples/demo/scanning-stage.js' {
  import type { Bands, IsolationModel } from 'restmass'
  export interface StageForce {
    readonly frequency: readonly number[]
    readonly amplitudeDensity: readonly number[]
  }
  export const scanningStage: StageForce
  export function bandsWhileScanning(model: IsolationModel, floorOnly: Bands, stage: StageForce): Bands
}

declare module '*/docs/examples/demo/run.js' {
  import type { DemoOptions } from '*/docs/examples/demo/options.js'
  export interface Sinks {
    readonly print: (text: string) => void
    readonly complain: (text: string) => void
  }
  export function run(words: readonly string[], sinks: Sinks): Promise<number>
  export function examine(options: DemoOptions): {
    readonly findings: {
      readonly rows: readonly { readonly name: string; readonly verdict: string; readonly passesScanning: boolean }[]
      readonly simplest: string | null
      readonly simplestScanning: string | null
      readonly notJudged: readonly number[]
    }
  }
}

declare module '*/docs/examples/demo/terminal.js' {
  export function terminalText(findings: object): string
}

declare module '*/docs/examples/html/page.js' {
  export function page(content: {
    readonly title: string
    readonly version: string
    readonly from: string
    readonly sections: readonly { readonly heading: string; readonly content: string }[]
  }): string
}
