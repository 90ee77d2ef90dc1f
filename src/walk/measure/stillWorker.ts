import { answerTasks } from '../../files/threads.js'
import { runStillTask } from './runStillTask.js'

// The script of a measuring thread.
answerTasks(runStillTask)
