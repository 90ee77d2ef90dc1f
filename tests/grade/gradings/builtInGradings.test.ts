import { describe, expect, it } from 'vitest'
import { builtInGrading, builtInGradings } from '../../../src/grade/gradings/builtInGradings.js'
import { elementM } from '../../../src/grade/gradings/grading.js'

// Limits are the reciprocals of the tables' mm per pixel: 1000 / 16 = 62.5, not the 62 or 63 many texts round it to.
const EDITION_2014 = 'IEC 62676-4:2014 (EN 62676-4:2015), object size and pixel density'
const EDITION_2025 = 'IEC 62676-4:2025, levels of low and high pixel density objects'
const rows: [grading: string, grade: string, limit: number, mmPerPx: number, source: string][] = [
  ['iec-62676-4-2014', 'monitor', 12.5, 80, EDITION_2014],
  ['iec-62676-4-2014', 'detect', 25, 40, EDITION_2014],
  ['iec-62676-4-2014', 'observe', 62.5, 16, EDITION_2014],
  ['iec-62676-4-2014', 'recognise', 125, 8, EDITION_2014],
  ['iec-62676-4-2014', 'identify', 250, 4, EDITION_2014],
  ['iec-62676-4-2014', 'inspect', 1000, 1, EDITION_2014],
  ['iec-62676-4-2025', 'overview', 20, 50, EDITION_2025],
  ['iec-62676-4-2025', 'outline', 40, 25, EDITION_2025],
  ['iec-62676-4-2025', 'discern', 80, 12.5, EDITION_2025],
  ['iec-62676-4-2025', 'perceive', 125, 8, EDITION_2025],
  ['iec-62676-4-2025', 'characterise', 250, 4, EDITION_2025],
  ['iec-62676-4-2025', 'validate', 500, 2, EDITION_2025],
  ['iec-62676-4-2025', 'scrutinise', 1500, 2 / 3, EDITION_2025],
]

describe('the built-in gradings', () => {
  it.each(rows)('%s gives %s the exact limit %d px/m (%d mm per px; %s)', (id, gradeId, limit, mmPerPx) => {
    const grade = builtInGrading(id)?.grades.find((each) => each.id === gradeId)
    expect(grade?.limit).toBe(limit)
    expect(limit * mmPerPx).toBe(1000)
  })

  it('hold those grades and no others, lowest limit first', () => {
    const held = builtInGradings.flatMap(({ grading }) =>
      grading.grades.map(({ id, limit }) => [grading.id, id, limit]),
    )
    expect(held).toEqual(rows.map(([grading, id, limit]) => [grading, id, limit]))
  })

  it('name their source and their status', () => {
    for (const { grading, status } of builtInGradings) {
      expect(grading.source).toContain('IEC 62676-4:')
      expect(status).toContain('verified')
    }
    expect(builtInGradings[0]?.status).toContain('withdrawn 2025-10-09')
  })

  it('give each task a grade of their own, and say on what ground', () => {
    for (const { grading, tasks } of builtInGradings) {
      expect(tasks.map(({ task }) => task)).toEqual(['read a plate', 'know a face', 'notice movement'])
      for (const { grade, note } of tasks) {
        expect(grading.grades.map(({ id }) => id)).toContain(grade)
        expect(note).toMatch(/memory|no source|convention/)
      }
    }
  })

  it('ask for an element of two pixels at the limit: 16 mm at 125 px/m, 8 mm at 250 px/m', () => {
    const grades = builtInGrading('iec-62676-4-2014')?.grades ?? []
    expect(grades.map(elementM)).toEqual([0.16, 0.08, 0.032, 0.016, 0.008, 0.002])
    expect(elementM({ id: 'own', name: 'Own', limit: 100, element: 0.014 })).toBe(0.014)
  })

  it('know no other id', () => {
    expect(builtInGrading('iec-62676-4-2019')).toBeNull()
  })
})
