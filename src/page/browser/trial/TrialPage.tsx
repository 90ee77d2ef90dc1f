import { useState } from 'preact/hooks'
import { pageSays } from '../../sentences.js'
import { TRIAL_ROUTES, type TrialView } from '../../trialApi.js'
import { type Reply, postTo } from '../state/callServer.js'
import { Showing, type How } from './Showing.js'

/** The reading trial: who reads, then one crop after the other, then the end. */
export function TrialPage() {
  const [reader, setReader] = useState('')
  const [view, setView] = useState<TrialView | null>(null)
  const [said, setSaid] = useState('')
  const [how, setHow] = useState<How>({ zoom: null, brightness: 1 })
  const goOn = async (name: string): Promise<void> => {
    const reply = await postTo<TrialView>(TRIAL_ROUTES.next, { reader: name })
    if (reply.kind === 'ok') setView(reply.value)
    else setSaid(whyNot(reply))
  }
  return (
    <main class="trial" id="main">
      {view === null ? (
        <Welcome
          onBegin={(name) => {
            setReader(name)
            setSaid('')
            void goOn(name)
          }}
        />
      ) : view.showing === null ? (
        <>
          <h1>That was all. Thank you, {reader}.</h1>
          <p>Everything is kept. Another reader may begin.</p>
          <p>
            <button class="main-act" onClick={() => setView(null)}>
              Another reader
            </button>
          </p>
        </>
      ) : (
        <Showing
          key={view.showing}
          view={view}
          how={how}
          onHow={setHow}
          onDone={(told) => {
            setSaid(told)
            void goOn(reader)
          }}
          onRefused={(reply) => {
            setSaid(whyNot(reply))
            if (reply.kind === 'refused' && reply.refusal.code === 'showing-over') void goOn(reader)
          }}
          onLeave={() => {
            setView(null)
            setSaid('What you read is kept. Come back under the same name to go on.')
          }}
        />
      )}
      <p class="trial-said" role="status">
        {said}
      </p>
      <footer class="foot">
        <p class="faint">Pictures stay on this machine. Letter cards are not number plates.</p>
      </footer>
    </main>
  )
}

function whyNot<T>(reply: Reply<T>): string {
  if (reply.kind === 'refused') return reply.refusal.message
  if (reply.kind === 'shut-out') return pageSays['address-used']('read').message
  return pageSays['no-answer']().message
}

function Welcome({ onBegin }: { readonly onBegin: (name: string) => void }) {
  const [name, setName] = useState('')
  return (
    <>
      <h1>Reading trial</h1>
      <p>
        You are shown one small picture at a time. Type the characters you see in it; there are only letters
        and digits, and no words. Type ? for one you cannot tell, or say that you cannot tell any. Take the
        time you need. Zoom and brightness are yours to set.
      </p>
      <p>
        The first three are for practice. You may stop at any time and go on later under the same name. Do not
        read if you have seen the cards.
      </p>
      <form
        onSubmit={(event) => {
          event.preventDefault()
          if (name.trim() !== '') onBegin(name.trim())
        }}
      >
        <label for="reader">Your name, or any word you will remember</label>
        <input
          id="reader"
          maxLength={60}
          value={name}
          autoComplete="off"
          onInput={(event) => setName(event.currentTarget.value)}
        />
        <button class="main-act" disabled={name.trim() === ''}>
          Begin
        </button>
      </form>
    </>
  )
}
