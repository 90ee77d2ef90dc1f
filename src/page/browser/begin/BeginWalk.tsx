import { useEffect, useRef, useState } from 'preact/hooks'
import { asSentence } from '../../../sentences.js'
import type { BeginView } from '../../beginApi.js'
import { beginWalk, type BeginFaults } from '../state/beginWalk.js'
import { useStore } from '../state/pageStore.js'
import { AskedChoice, AskedGroup, AskedText } from './AskedField.js'
import { type Answers, firstAnswers, lacksDetail, requestOf, type Wish } from './beginAnswers.js'

interface PartProps {
  readonly view: BeginView
  readonly answers: Answers
  readonly faults: BeginFaults
  readonly put: (part: Partial<Answers>) => void
}

/** Begins a walk where there is none: asks what `proofwalk new` asks, as far as a walk cannot do without. */
export function BeginWalk({ view }: { readonly view: BeginView }) {
  const store = useStore()
  const [answers, setAnswers] = useState(() => firstAnswers(view))
  const [faults, setFaults] = useState<BeginFaults>({})
  const form = useRef<HTMLFormElement>(null)
  useEffect(() => {
    const name = Object.keys(faults)[0]
    if (name !== undefined) form.current?.querySelector<HTMLElement>(`#begin-${name}`)?.focus()
  }, [faults])
  const part = { view, answers, faults, put: (some: Partial<Answers>) => setAnswers({ ...answers, ...some }) }
  const begin = async (event: Event): Promise<void> => {
    event.preventDefault()
    setFaults(await beginWalk(store, requestOf(view, answers)))
  }
  return (
    <main class="begin" id="main">
      <form ref={form} aria-label="Begin a walk" onSubmit={(event) => void begin(event)}>
        <h1>Begin a walk</h1>
        <p class="lead">
          One camera, one position, one set of stills. Everything else can be added to walk.yaml later.
        </p>
        {faults['rest'] === undefined ? null : (
          <p class="asked-fault" id="begin-rest" tabIndex={-1}>
            {asSentence(faults['rest'])}
          </p>
        )}
        <Place {...part} />
        <Names {...part} />
        <Carried {...part} />
        <Marks {...part} />
        <Wishes {...part} />
        <p class="bulk-acts">
          <button type="submit" class="main-act">
            Begin the walk
          </button>
        </p>
      </form>
    </main>
  )
}

function Place({ view, answers, faults, put }: PartProps) {
  const { within } = view
  const step = within.includes('\\') ? '\\' : '/'
  const whole = view.folder === null ? within : `${within.replace(/[/\\]$/, '')}${step}${answers.folder}`
  return (
    <AskedGroup name="place" legend="Where is it kept?">
      {view.folder === null ? null : (
        <AskedText
          name="folder"
          label="Name of its folder"
          value={answers.folder}
          fault={faults['folder']}
          onTyped={(folder) => put({ folder })}
        />
      )}
      <p class="begin-path">
        walk.yaml and the stills are put into <code>{whole}</code>
      </p>
    </AskedGroup>
  )
}

function Names({ answers, faults, put }: PartProps) {
  const hint = 'left empty: called as its folder'
  return (
    <AskedGroup name="names" legend="What stands on the sheet?">
      <AskedText
        name="site"
        label="Where the camera stands"
        value={answers.site}
        hint={hint}
        fault={faults['site']}
        onTyped={(site) => put({ site })}
      />
      <AskedText
        name="camera"
        label="What the camera is called"
        value={answers.camera}
        hint={hint}
        fault={faults['camera']}
        onTyped={(camera) => put({ camera })}
      />
      <AskedText
        name="client"
        label="Who ordered it"
        value={answers.client}
        hint="may be left empty"
        fault={faults['client']}
        onTyped={(client) => put({ client })}
      />
    </AskedGroup>
  )
}

function Carried({ view, answers, faults, put }: PartProps) {
  const { carried } = answers
  const first = view.first[answers.units]
  const size = 'as held, its unit behind it'
  return (
    <AskedGroup name="carry" legend="What is carried from mark to mark?" fault={faults['carry']}>
      <AskedChoice
        name="carried"
        label="Reference"
        value={carried}
        choices={view.carried}
        onChosen={(kind) => put({ carried: kind })}
      />
      {carried === 'plate' || carried === 'both' ? (
        <AskedChoice
          name="plate"
          label="Which plate"
          value={answers.plate}
          choices={view.plates}
          onChosen={(plate) => put({ plate })}
        />
      ) : null}
      {carried === 'board' || carried === 'both' ? (
        <AskedText
          name="board"
          label="Size of the board, width first"
          value={answers.board ?? first.board}
          hint={size}
          onTyped={(board) => put({ board })}
        />
      ) : null}
      {carried === 'chart' ? (
        <AskedChoice
          name="paper"
          label="On which paper"
          value={answers.paper}
          choices={view.papers}
          onChosen={(paper) => put({ paper })}
        />
      ) : null}
      {carried === 'staff' ? (
        <AskedText
          name="staff"
          label="Length of the staff"
          value={answers.staff ?? first.staff}
          hint={size}
          onTyped={(staff) => put({ staff })}
        />
      ) : null}
      {lacksDetail(answers) ? <p role="status">{asSentence(view.takesDetail)}</p> : null}
    </AskedGroup>
  )
}

const UNITS = [
  { value: 'metres', label: 'metres' },
  { value: 'feet', label: 'feet' },
]

function Marks({ view, answers, faults, put }: PartProps) {
  const { units, lights } = answers
  return (
    <AskedGroup name="where" legend="Where and in which light is it carried?" fault={faults['lights']}>
      <AskedChoice
        name="units"
        label="Distances in"
        value={units}
        choices={UNITS}
        onChosen={(unit) => put({ units: unit === 'feet' ? 'feet' : 'metres' })}
      />
      <AskedText
        name="marks"
        label="Marks, from the camera"
        value={answers.marks ?? view.first[units].marks}
        hint="a plan: other distances may be added at any time"
        fault={faults['marks']}
        onTyped={(marks) => put({ marks })}
      />
      <AskedChoice
        name="measuredWith"
        label="Measured with"
        value={answers.measuredWith}
        choices={view.tools[units]}
        onChosen={(measuredWith) => put({ measuredWith })}
      />
      <div class="asked-lights" role="group" aria-label="Lights">
        {view.lights.map(({ value, label, hint }) => (
          <label class="tick" key={value}>
            <input
              type="checkbox"
              checked={lights.includes(value)}
              onChange={({ currentTarget: { checked } }) =>
                put({ lights: checked ? [...lights, value] : lights.filter((light) => light !== value) })
              }
            />
            {hint === undefined ? label : `${label}, ${hint}`}
          </label>
        ))}
      </div>
    </AskedGroup>
  )
}

/** By which edition, then one row a wish, and an empty one below. */
function Wishes({ view, answers, faults, put }: PartProps) {
  const { wishes, units, edition } = answers
  const change = (index: number, part: Partial<Wish>): void => {
    const before = wishes[index] ?? { task: '', at: null, light: 'day' }
    const after = { ...before, ...part }
    put({ wishes: wishes.toSpliced(index, 1, ...(after.task === '' ? [] : [after])) })
  }
  return (
    <AskedGroup name="promise" legend="What must the camera do?" fault={faults['promise']}>
      <AskedChoice
        name="edition"
        label="Edition that was agreed"
        value={edition}
        choices={view.editions}
        onChosen={(chosen) => put({ edition: chosen })}
      />
      {[...wishes, null].map((wish, index) => (
        <div class="asked-wish" key={index}>
          <AskedChoice
            name={`task-${index}`}
            label={index === 0 ? 'It must' : 'It must also'}
            value={wish?.task ?? ''}
            choices={[
              { value: '', label: index === 0 ? 'not said' : 'nothing else' },
              ...view.tasks[edition]![units],
            ]}
            onChosen={(task) => change(index, { task })}
          />
          {wish === null ? null : (
            <>
              <AskedText
                name={`at-${index}`}
                label="at"
                value={wish.at ?? view.first[units].at}
                onTyped={(at) => change(index, { at })}
              />
              <AskedChoice
                name={`light-${index}`}
                label="in"
                value={wish.light}
                choices={view.lights.map(({ value, label }) => ({ value, label }))}
                onChosen={(light) => change(index, { light })}
              />
            </>
          )}
        </div>
      ))}
    </AskedGroup>
  )
}
