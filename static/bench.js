// Enter in a number field goes to the next one, as with an instrument that types; after the last, to the button.
// Without this script Enter sends the form, and all is as well.
"use strict"
document.addEventListener("keydown", event => {
  const field = event.target
  const types = "input[inputmode='decimal']"
  if (event.key !== "Enter" || event.isComposing || !(field instanceof HTMLInputElement) || !field.matches(types)) return
  const stops = [...field.form.querySelectorAll(`${types}, button`)].filter(one => !one.disabled && one.checkVisibility())
  const next = stops[stops.indexOf(field) + 1]
  if (!next) return
  event.preventDefault()
  next.focus()
  if (next instanceof HTMLInputElement) next.select()
})
