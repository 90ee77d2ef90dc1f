// The house, held so by the linter: which room may import from which, no circle, no hall of more than twenty files.
import { readFileSync, readdirSync } from 'node:fs'
import { basename, dirname, join, relative, resolve } from 'node:path'
import { fileURLToPath } from 'node:url'

const SOURCE = resolve(dirname(fileURLToPath(import.meta.url)), '../src')
const MOST_FILES = 20

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
      rooms: ['reference', 'pose', 'density', 'edge', 'export', 'tone', 'surface', 'chart', 'snap', 'lens'],
      entrances: ['measureStill'],
    },
    {
      name: 'grade',
      words: ['judgement', 'wording'],
      rooms: ['gradings', 'marks', 'range', 'compare', 'promises'],
      entrances: [
        'judgeWalk',
        'compareLights',
        'lensResult',
        'markResult',
        'marksToTape',
        'squarePixels',
        'triggers',
      ],
    },
    {
      name: 'walk',
      rooms: ['schemas', 'read', 'new', 'change', 'stills', 'lens', 'measure', 'site', 'plan'],
    },
    'plot',
    {
      name: 'sheet',
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
      words: ['api'],
      rooms: [
        {
          name: 'server',
          rooms: ['reply', 'pictures', 'walk', 'routes'],
          entrances: ['startPageServer'],
        },
        {
          name: 'browser',
          rooms: ['state', 'answer', 'strip', 'desk', 'frame'],
          entrances: ['main', 'bundle'],
        },
      ],
    },
    {
      name: 'simulate',
      rooms: ['camera', 'yard', 'walker', 'demo'],
    },
    {
      name: 'cli',
      rooms: ['terminal', 'measure', 'folders', 'new', 'commands'],
      entrances: ['program', 'runProgram', 'main'],
    },
  ],
  words: ['errors', 'sentences', 'version'],
  entrances: ['index'],
}

const named = (room) => (typeof room === 'string' ? { name: room, rooms: [] } : room)

/** Where a file stands, one step a storey of the house; null in it where a room or a root's file is not on the plan. */
function placeOf(file) {
  const steps = relative(SOURCE, file).split('/')
  const place = []
  let room = HOUSE
  for (const step of steps.slice(0, -1)) {
    const at = room.rooms.findIndex((inner) => named(inner).name === step)
    place.push({ name: step, level: at < 0 ? null : at })
    if (at < 0) return place
    room = named(room.rooms[at])
  }
  const name = basename(file).replace(/\.\w+$/, '')
  if (room.words?.includes(name)) place.push({ name, level: -1 })
  else if (room.entrances?.includes(name)) place.push({ name, level: room.rooms.length })
  else place.push({ name, level: room.rooms.length === 0 ? 0 : null })
  return place
}

/** What is wrong with one file's importing another, or null. */
function wrongImport(from, to) {
  const [own, other] = [placeOf(from), placeOf(to)]
  for (let depth = 0; depth < Math.min(own.length, other.length); depth += 1) {
    const [mine, theirs] = [own[depth], other[depth]]
    if (theirs.level === null) return `${theirs.name} is not on the house's plan (.ci/houseRules.js)`
    if (mine.level === null) return null
    const roots = depth === own.length - 1 && depth === other.length - 1
    if (mine.level < theirs.level)
      return `${mine.name} stands above ${theirs.name} in the house and must not import from it`
    if (mine.name !== theirs.name || roots) return null
  }
  return null
}

const IMPORTED = /(?:^|\n)\s*(?:import|export)[^'"\n;]*?(?:\{[^}]*\}[^'"\n;]*?)?['"](\.[^'"]+)['"]/g

/** The files of src a file imports, types included. */
function importsOf(file) {
  return [...readFileSync(file, 'utf8').matchAll(IMPORTED)]
    .map(([, path]) => resolve(dirname(file), path).replace(/\.js$/, ''))
    .flatMap((path) => [`${path}.ts`, `${path}.tsx`].filter((found) => allFiles().has(found)))
}

let files = null
function allFiles() {
  files ??= new Set(
    readdirSync(SOURCE, { recursive: true })
      .map((file) => join(SOURCE, file))
      .filter((file) => /\.tsx?$/.test(file)),
  )
  return files
}

/** The circle a file stands in: the way from it back to itself, or null. */
function circleOf(start) {
  const cameFrom = new Map()
  const queue = [start]
  for (let file = queue.shift(); file !== undefined; file = queue.shift()) {
    for (const next of importsFrom(file)) {
      if (next === start) return wayBack(cameFrom, start, file)
      if (cameFrom.has(next)) continue
      cameFrom.set(next, file)
      queue.push(next)
    }
  }
  return null
}

const graph = new Map()
function importsFrom(file) {
  if (!graph.has(file)) graph.set(file, importsOf(file))
  return graph.get(file)
}

function wayBack(cameFrom, start, end) {
  const way = [start]
  for (let at = end; at !== start; at = cameFrom.get(at)) way.splice(1, 0, at)
  return [...way, start].map((file) => relative(SOURCE, file)).join(' -> ')
}

const order = {
  create: (context) => {
    const check = (node) => {
      const path = node.source?.value
      if (typeof path !== 'string' || !path.startsWith('.')) return
      const to = resolve(dirname(context.filename), path)
      if (relative(SOURCE, to).startsWith('..')) return
      const message = wrongImport(context.filename, to)
      if (message !== null) context.report({ node, message })
    }
    return {
      ImportDeclaration: check,
      ExportNamedDeclaration: check,
      ExportAllDeclaration: check,
      ImportExpression: check,
      Program: (node) => {
        const lost = placeOf(context.filename).find(({ level }) => level === null)
        if (lost !== undefined)
          context.report({ node, message: `${lost.name} is not on the house's plan (.ci/houseRules.js)` })
      },
    }
  },
}

const circles = {
  create: (context) => ({
    Program: (node) => {
      const circle = circleOf(context.filename)
      if (circle !== null)
        context.report({ node, message: `files that import each other in a circle: ${circle}` })
    },
  }),
}

const halls = {
  create: (context) => ({
    Program: (node) => {
      const room = dirname(context.filename)
      const count = [...allFiles()].filter((file) => dirname(file) === room).length
      if (count > MOST_FILES)
        context.report({
          node,
          message: `${relative(SOURCE, room)} holds ${count} files, more than ${MOST_FILES}: give it rooms`,
        })
    },
  }),
}

export const houseRules = { rules: { order, circles, halls } }
