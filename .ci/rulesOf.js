// Lint rules that hold a folder of sources to a plan of rooms: what imports what, no circle, no folder of more than twenty files.
import { readFileSync, readdirSync } from 'node:fs'
import { basename, dirname, join, relative, resolve } from 'node:path'

const MOST_FILES = 20

const named = (room) => (typeof room === 'string' ? { name: room, rooms: [] } : room)

const IMPORTED = /(?:^|\n)\s*(?:import|export)[^'"\n;]*?(?:\{[^}]*\}[^'"\n;]*?)?['"](\.[^'"]+)['"]/g

/** The rules that hold a folder of sources to a plan. Sources are read once, when the first file is looked at. */
export function rulesOf(source, plan) {
  let held = null
  /** The files below `source`, each with those it imports, types included. */
  const imports = () => (held ??= importsBelow(source))

  /** Where a file stands, one step a storey of the house; a level of null where a room or a root's file is not on the plan. */
  function placeOf(file) {
    const place = []
    let room = plan
    for (const step of relative(source, file).split('/').slice(0, -1)) {
      const at = room.rooms.findIndex((inner) => named(inner).name === step)
      place.push({ name: step, level: at < 0 ? null : at })
      if (at < 0) return place
      room = named(room.rooms[at])
    }
    const name = basename(file).replace(/\.\w+$/, '')
    const inRoot = room.rooms.length === 0 ? 0 : null
    const level = room.words?.includes(name)
      ? -1
      : room.entrances?.includes(name)
        ? room.rooms.length
        : inRoot
    return [...place, { name, level }]
  }

  /** What is wrong with one file's importing another, or null. */
  function wrongImport(from, to) {
    const [own, other] = [placeOf(from), placeOf(to)]
    for (let depth = 0; depth < Math.min(own.length, other.length); depth += 1) {
      const [mine, theirs] = [own[depth], other[depth]]
      if (theirs.level === null) return offThePlan(theirs)
      if (mine.level === null) return null
      const roots = depth === own.length - 1 && depth === other.length - 1
      if (mine.level < theirs.level)
        return `${mine.name} stands above ${theirs.name} in the house and must not import from it`
      if (mine.name !== theirs.name || roots) return null
    }
    return null
  }

  /** The circle a file stands in: the way from it back to itself, or null. */
  function circleOf(start) {
    const ways = [[start]]
    const seen = new Set()
    for (const way of ways)
      for (const next of imports().get(way.at(-1)) ?? []) {
        if (next === start) return [...way, next].map((file) => relative(source, file)).join(' -> ')
        if (!seen.has(next)) ways.push([...way, next])
        seen.add(next)
      }
    return null
  }

  function importIn(context, node) {
    const path = node.source?.value
    if (typeof path !== 'string' || !path.startsWith('.')) return null
    const to = resolve(dirname(context.filename), path)
    return relative(source, to).startsWith('..') ? null : wrongImport(context.filename, to)
  }

  const order = on(
    ['ImportDeclaration', 'ExportNamedDeclaration', 'ExportAllDeclaration', 'ImportExpression'],
    importIn,
  )
  const places = on(['Program'], ({ filename }) => {
    const lost = placeOf(filename).find(({ level }) => level === null)
    return lost === undefined ? null : offThePlan(lost)
  })
  const circles = on(['Program'], ({ filename }) => {
    const circle = circleOf(filename)
    return circle === null ? null : `files that import each other in a circle: ${circle}`
  })
  const halls = on(['Program'], ({ filename }) => {
    const room = dirname(filename)
    const count = [...imports().keys()].filter((file) => dirname(file) === room).length
    if (count <= MOST_FILES) return null
    return `${relative(source, room)} holds ${count} files, more than ${MOST_FILES}: give it rooms`
  })
  return { rules: { order, places, circles, halls } }
}

const offThePlan = ({ name }) => `${name} is not on the house's plan (.ci/houseRules.js)`

/** A rule that reports what `fault` says of the nodes of these kinds. */
function on(kinds, fault) {
  const create = (context) => {
    const check = (node) => {
      const message = fault(context, node)
      if (message !== null) context.report({ node, message })
    }
    return Object.fromEntries(kinds.map((kind) => [kind, check]))
  }
  return { create }
}

function importsBelow(source) {
  const files = readdirSync(source, { recursive: true })
    .filter((file) => /\.tsx?$/.test(file))
    .map((file) => join(source, file))
  const known = new Set(files)
  const importsOf = (file) =>
    [...readFileSync(file, 'utf8').matchAll(IMPORTED)]
      .map(([, path]) => resolve(dirname(file), path).replace(/\.js$/, ''))
      .flatMap((path) => [`${path}.ts`, `${path}.tsx`].filter((found) => known.has(found)))
  return new Map(files.map((file) => [file, importsOf(file)]))
}
