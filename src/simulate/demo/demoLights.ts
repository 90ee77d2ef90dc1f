import { dayLight, infraredLight, lampLight, type DemoLight, type DemoLightName } from '../yard/demoLight.js'
import { demoStation } from './demoStation.js'

/** The light of that name in the demonstration's yard. */
export function demoLight(name: DemoLightName): DemoLight {
  if (name === 'day') return dayLight()
  return name === 'lamp' ? lampLight() : infraredLight(demoStation(1).mountHeightM)
}
