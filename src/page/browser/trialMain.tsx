import { render } from 'preact'
import { enter } from './state/session.js'
import { TrialPage } from './trial/TrialPage.js'
import { startTheme } from './frame/theme.js'

startTheme()
void enter().then(() => render(<TrialPage />, document.getElementById('page')!))
