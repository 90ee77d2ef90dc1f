import { runStillTask } from './runStillTask.js'

/** The task of a measuring thread: see `runStillTask`. The thread pool wants it as the module's default. */
export { runStillTask as default }
