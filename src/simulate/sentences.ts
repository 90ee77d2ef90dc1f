import { catalogue } from '../sentences.js'

const IN_USE = {
  topic: 'files',
  code: 'folder-in-use',
  mend: 'name a folder that is new or empty',
} as const

/** All that the simulator says. */
export const simulateSays = catalogue({
  'out-of-view': { topic: 'program', say: 'this lens does not show the target' },
  'folder-unreadable': { ...IN_USE, say: 'is not a folder that can be read' },
  'folder-of-others': { ...IN_USE, say: 'is not empty and does not hold a demonstration' },
  'folder-with-more': {
    ...IN_USE,
    say: (file: string) => `holds an earlier demonstration and also "${file}", which is not part of it`,
  },
})
