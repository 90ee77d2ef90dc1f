// The house, held so by the linter: which room may import from which, no circle, no hall of more than twenty files.
import { fileURLToPath } from 'node:url'
import { rulesOf } from './rulesOf.js'

/**
 * The rooms in the order a still flows through them: a room imports only from those above it. Inside a room the same: first its words, then its own
 * rooms in their order, then its entrances, which stand beside the words in the room's root. A bare name is a room without rooms.
 */
const HOUSE = {
  rooms: [
    'math',
    'units',
    'lens',
    'files',
    'still',
    'scene',
    {
      name: 'chart',
      words: ['sentences'],
      rooms: ['printed', 'match', 'fit', 'find'],
    },
    {
      name: 'measure',
      words: ['sentences', 'stillMeasurement', 'rasterAround', 'regionNeeded'],
      rooms: [
        'reference',
        'pose',
        'density',
        'edge',
        'export',
        'tone',
        'surface',
        'chart',
        'strip',
        'letters',
        'snap',
        'lens',
      ],
      entrances: ['measureStill'],
    },
    'trial',
    {
      name: 'grade',
      words: ['judgement', 'sentences'],
      rooms: ['gradings', 'scene', 'marks', 'range', 'court', 'compare', 'promises'],
      entrances: ['judgeWalk', 'compareLights', 'lensResult', 'markResult', 'marksToTape', 'triggers'],
    },
    {
      name: 'walk',
      rooms: [
        'schemas',
        'read',
        'new',
        'change',
        'stills',
        'store',
        'scene',
        'lens',
        'trial',
        'measure',
        'site',
        'plan',
      ],
    },
    'plot',
    {
      name: 'sheet',
      words: ['sentences'],
      rooms: [
        'input',
        'document',
        'tables',
        'plots',
        'pictures',
        'acceptance',
        'site',
        'chart',
        'plan',
        'verify',
      ],
    },
    {
      name: 'page',
      words: ['api', 'beginApi', 'trialApi', 'sentences'],
      rooms: [
        {
          name: 'server',
          rooms: ['reply', 'pictures', 'walk', 'routes', 'trial'],
          entrances: ['startPageServer', 'startTrialServer'],
        },
        {
          name: 'browser',
          rooms: ['state', 'begin', 'answer', 'strip', 'desk', 'frame', 'trial'],
          entrances: ['main', 'trialMain', 'bundle'],
        },
      ],
    },
    {
      name: 'simulate',
      words: ['sentences'],
      rooms: ['camera', 'yard', 'walker', 'demo'],
    },
    {
      name: 'cli',
      words: ['sentences'],
      rooms: ['terminal', 'measure', 'folders', 'new', 'help', 'commands'],
      entrances: ['program', 'runProgram', 'main'],
    },
  ],
  words: ['errors', 'jstat.d', 'sentences', 'version'],
  entrances: ['index'],
}

/** The rules that hold `src` to the plan above. */
export const houseRules = rulesOf(fileURLToPath(new URL('../src', import.meta.url)), HOUSE)
