import { catalogue } from '../sentences.js'

const IN_USE = {
  topic: 'files',
  code: 'folder-in-use',
  mend: 'name a folder that is new or empty',
} as const

/** All that the simulator says. */
export const simulateSays = catalogue({
  'out-of-view': { topic: 'program', say: 'the target has no image on this lens' },
  'folder-unreadable': { ...IN_USE, say: 'is no folder that can be read' },
  'folder-of-others': { ...IN_USE, say: 'is not empty and holds no demonstration' },
  'folder-with-more': {
    ...IN_USE,
    say: (file: string) => `holds an earlier demonstration, and "${file}", which is not of it`,
  },
})
