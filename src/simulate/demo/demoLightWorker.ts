import { answerTasks } from '../../files/threads.js'
import { writeDemoLight } from './writeDemoLight.js'

// The script of a thread that simulates one light's stills.
answerTasks(writeDemoLight)
