// Exercises: what somebody writes is judged by JUDGE with the program and the exercises in EXERCISES.
'use strict';
(() => {
  const { program, exercises } = EXERCISES;
  JUDGE.use(program);
  document.querySelectorAll('form.exercise').forEach(form => {
    const inputs = [...form.querySelectorAll('input')], said = form.querySelector('output');
    form.addEventListener('submit', event => {
      event.preventDefault();
      said.textContent = JUDGE.judged(exercises[form.dataset.exercise], inputs.map(input => input.value));
    });
    form.querySelectorAll('[data-card]').forEach(card => card.addEventListener('click', () => {
      inputs[0].value = `${inputs[0].value} ${card.dataset.card}`.trim();
    }));
  });
})();
