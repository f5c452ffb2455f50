import type { AirSpringForce } from '../elements/air-spring-force.js'
import type { FlowResistance } from '../elements/flow-resistance.js'
import type { LevellingConsumption } from '../elements/gas-mass.js'
import type { OrificeFlow } from '../elements/orifice.js'
import type { RecordShapeFor } from './shape.js'

export const airSpringForceShape: RecordShapeFor<AirSpringForce> = {
  fields: { travel: 'series', force: 'series', stiffness: 'series' },
  lengths: { force: ['travel'], stiffness: ['travel'] },
}

export const flowResistanceShape: RecordShapeFor<FlowResistance> = {
  fields: {
    restriction: { oneOf: ['capillary', 'slot', 'orifice'] },
    flowResistance: 'number',
    pressureDrop: { nullable: 'number' },
    reynoldsNumber: { nullable: 'number' },
    entranceLength: { nullable: 'number' },
    cautions: { list: 'text' },
  },
}

export const orificeFlowShape: RecordShapeFor<OrificeFlow> = {
  fields: { massFlow: 'number', volumeFlow: { nullable: 'number' }, choked: 'truth', criticalPressureRatio: 'number' },
}

export const levellingConsumptionShape: RecordShapeFor<LevellingConsumption> = {
  fields: { gasMass: 'number', freeVolume: { nullable: 'number' } },
}
