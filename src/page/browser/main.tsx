import { render } from 'preact'
import { App } from './frame/App.js'
import { Desk } from './desk/desk.js'
import { pageKeys } from './desk/pageKeys.js'
import { emptyStore, StoreOfPage } from './state/pageStore.js'
import { keepUnsaved } from './state/keepUnsaved.js'
import { enter } from './state/session.js'
import { saveUnsaved } from './state/saveUnsaved.js'
import { listenToServer, readResults, readWalk } from './state/takeNews.js'
import { startTheme } from './frame/theme.js'

const store = emptyStore()
const desk = new Desk(store)

startTheme()
render(
  <StoreOfPage.Provider value={store}>
    <App desk={desk} />
  </StoreOfPage.Provider>,
  document.getElementById('page')!,
)
pageKeys(store, desk)
// The walk first, so that the first still is on its way before anything else is asked.
void enter()
  .then(() => readWalk(store))
  .then(() => keepUnsaved(store))
  .then(() => {
    void listenToServer(store, () => void saveUnsaved(store))
    void saveUnsaved(store)
    return readResults(store)
  })
addEventListener('beforeunload', (event) => {
  if (store.state.unsaved.length > 0 || store.state.saving) event.preventDefault()
})
