import { answerTasks } from '../../files/threads.js'
import { runSceneTask } from '../../scene/sceneTask.js'

// The script of the one thread that registers.
answerTasks(runSceneTask)
