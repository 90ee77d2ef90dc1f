import { runSceneTask } from '../../scene/sceneTask.js'

/** The task of the one thread that registers: see `runSceneTask`. The thread pool wants it as the module's default. */
export { runSceneTask as default }
