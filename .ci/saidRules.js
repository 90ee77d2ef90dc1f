// One catalogue of sentences, held so by the linter: nothing is said to a person outside a room's sentences.ts.

/** Calls that tell something, and the place of their message among the arguments; a literal with a blank in it is a sentence at any place. */
const TELLING = { ProofwalkError: 1, failure: 1, fault: 1, fieldFault: 3 }
const TOLD = new Set(['message', 'why', 'mend'])

/** The texts a value may be, as far as they are written there and then: of a literal, a template, a sum, a choice. */
function textsIn(node) {
  switch (node?.type) {
    case 'Literal':
      return typeof node.value === 'string' ? [node.value] : []
    case 'TemplateLiteral':
      return [node.quasis.map(({ value }) => value.cooked).join('')]
    case 'BinaryExpression':
      return node.operator === '+' ? [...textsIn(node.left), ...textsIn(node.right)] : []
    case 'LogicalExpression':
      return [...textsIn(node.left), ...textsIn(node.right)]
    case 'ConditionalExpression':
      return [...textsIn(node.consequent), ...textsIn(node.alternate)]
    case 'TSAsExpression':
    case 'TSSatisfiesExpression':
    case 'TSNonNullExpression':
      return textsIn(node.expression)
    default:
      return []
  }
}

const hasWords = (text) => /\p{L}/u.test(text)
const isSentence = (text) => /\p{L}\s+\S/u.test(text)
const nameOf = (node) =>
  node.type === 'Identifier' ? node.name : node.type === 'Literal' ? node.value : null

const said = {
  create: (context) => {
    const report = (node) =>
      context.report({
        node,
        message: "a sentence stands outside the room's sentences.ts: take it from there",
      })
    const checkCall = (node) => {
      const place = TELLING[nameOf(node.callee)]
      if (place === undefined) return
      node.arguments.forEach((argument, index) => {
        if (textsIn(argument).some(index === place ? hasWords : isSentence)) report(argument)
      })
    }
    const checkValue = (name, value) => {
      if (TOLD.has(name) && textsIn(value).some(hasWords)) report(value)
    }
    return {
      CallExpression: checkCall,
      NewExpression: checkCall,
      Property: ({ key, value, computed }) => computed || checkValue(nameOf(key), value),
      VariableDeclarator: ({ id, init }) => checkValue(nameOf(id), init),
    }
  },
}

export const saidRules = { rules: { said } }
