import { writeDemoLight } from './writeDemoLight.js'

/** The task of a thread that simulates one light's stills. The thread pool wants it as the module's default. */
export { writeDemoLight as default }
