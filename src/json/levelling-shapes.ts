import type { LevellingBound, LevellingBounds, LevellingLimit } from '../isolation/levelling-limit.js'
import type { OnOffLevelling } from '../isolation/on-off-levelling.js'
import type { RecordShapeFor } from './shape.js'

const bound: RecordShapeFor<LevellingBound> = {
  fields: { rate: { nullable: 'number' }, frequency: { nullable: 'unboundedNumber' } },
}

const bounds: RecordShapeFor<LevellingBounds> = { fields: { vertical: bound, rocking: { nullable: bound } } }

export const levellingLimitShape: RecordShapeFor<LevellingLimit> = {
  fields: {
    rate: 'number',
    together: bounds,
    alone: bounds,
    first: { nullable: { oneOf: ['vertical', 'rocking'] } },
    cautions: { list: 'text' },
  },
}

export const onOffLevellingShape: RecordShapeFor<OnOffLevelling> = {
  fields: {
    limitCycle: {
      nullable: {
        fields: { amplitude: 'unboundedNumber', frequency: { nullable: 'unboundedNumber' }, threshold: 'number' },
      },
    },
    stoppingDeadBand: 'unboundedNumber',
  },
}
