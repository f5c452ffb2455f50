import type { BandFlag, LevelStatistic } from './types.js'

/** How levels may have been taken over time. */
export const statistics: readonly LevelStatistic[] = ['average', 'median', 'maximum', 'percentile']

/** What may make a band doubtful. */
export const bandFlags: readonly BandFlag[] = ['few-lines', 'short-record']
