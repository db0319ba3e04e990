// How the search weighs what it finds: lessons and the glossary come before the reference of functions.
var Scorer = {
  score: ([page, , , , score]) => score - (page.startsWith('reference') ? 20 : 0),
  objNameMatch: 11, objPartialMatch: 6, objPrio: { 0: 15, 1: 5, 2: -5 }, objPrioDefault: 0,
  title: 15, partialTitle: 7, term: 5, partialTerm: 2,
};
