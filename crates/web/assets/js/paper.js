// A button that prints; without script the browser's own menu does.
function find() {
  for (const button of document.querySelectorAll("[data-print]")) {
    button.hidden = false;
    button.onclick = () => print();
  }
}
document.addEventListener("sheet", find);
find();
