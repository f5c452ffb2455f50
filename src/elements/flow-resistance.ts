/** What a restriction opposes to the flow of gas; made by `laminarFlowResistance` and `orificeFlowResistance`. */
export interface FlowResistance {
  readonly kind: 'FlowResistance'
  readonly restriction: 'capillary' | 'slot' | 'orifice'
  /** Pressure drop per volume flow through all passages [Pa·s/m³], what `airSpring` takes */
  readonly flowResistance: number
  /** Pressure drop at the stated flow [Pa]; null where no flow was stated */
  readonly pressureDrop: number | null
  /** Mean speed times hydraulic diameter over kinematic viscosity, at the stated flow; null where none was stated */
  readonly reynoldsNumber: number | null
  /** Length over which the laminar profile develops, 0.06·Re·(hydraulic diameter) [m]; null for an orifice or no flow */
  readonly entranceLength: number | null
  /** Where the formula leaves its range, in sentences */
  readonly cautions: readonly string[]
}
