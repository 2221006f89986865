// Lets the mouse (or a finger held on a card) move what carries data-card in the activity's picture.
// The picture is drawn anew after each move, so that the box listens, not the cards.

const NEAR = 5; // pixels: less is a click

function render({ model, el }) {
  let box, waiting, held;
  const card_at = (event) => document.elementFromPoint(event.clientX, event.clientY)?.closest("[data-card]");
  const tidy = () => {
    held?.card.removeAttribute("transform");
    held?.card.removeAttribute("opacity");
    held = undefined;
  };
  const down = (event) => {
    const card = event.target.closest?.("[data-card]");
    if (!card || event.button !== 0) return;
    event.preventDefault();
    const scale = card.ownerSVGElement.viewBox.baseVal.width / card.ownerSVGElement.clientWidth;
    held = { card, x: event.clientX, y: event.clientY, scale, moved: false };
  };
  const move = (event) => {
    if (!held) return;
    const [dx, dy] = [event.clientX - held.x, event.clientY - held.y];
    held.moved ||= Math.hypot(dx, dy) > NEAR;
    if (!held.moved) return;
    held.card.setAttribute("transform", `translate(${dx * held.scale} ${dy * held.scale})`);
    held.card.setAttribute("opacity", "0.75");
    held.card.style.pointerEvents = "none"; // so that the card beneath is found
  };
  const up = (event) => {
    if (!held) return;
    const { card, moved } = held;
    const onto = moved ? card_at(event) : card;
    card.style.pointerEvents = "";
    const inside = onto && box.contains(onto);
    tidy();
    if (inside) model.send({ card: card.dataset.card, onto: onto.dataset.card });
  };
  const begin = () => {
    box = el.closest(".bc-activity");
    if (!box) {
      waiting = requestAnimationFrame(begin); // not in the page yet
      return;
    }
    box.addEventListener("pointerdown", down);
    window.addEventListener("pointermove", move);
    window.addEventListener("pointerup", up);
    window.addEventListener("pointercancel", tidy);
  };
  begin();
  return () => {
    cancelAnimationFrame(waiting);
    box?.removeEventListener("pointerdown", down);
    window.removeEventListener("pointermove", move);
    window.removeEventListener("pointerup", up);
    window.removeEventListener("pointercancel", tidy);
  };
}

export default { render };
