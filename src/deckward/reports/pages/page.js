(function () {
  var root = document.documentElement, button = document.getElementById("light"), key = "deckward-light";
  function stored() { try { return localStorage.getItem(key); } catch (e) { return null; } }
  function store(value) { try { localStorage.setItem(key, value); } catch (e) {} }
  if (stored()) root.dataset.light = stored();
  button.hidden = false;
  button.addEventListener("click", function () {
    var night = root.dataset.light ? root.dataset.light === "night"
      : matchMedia("(prefers-color-scheme: dark)").matches;
    root.dataset.light = night ? "day" : "night";
    store(root.dataset.light);
  });

  // pointing at the approach, or moving the slider, reads it off in words
  document.querySelectorAll("figure[data-read]").forEach(function (figure) {
    var lines = JSON.parse(figure.dataset.read), last = lines.length - 1;
    var slider = document.createElement("input"), said = document.createElement("output");
    slider.type = "range"; slider.max = last; slider.value = 0;
    slider.setAttribute("aria-label", "Along the pass");
    figure.prepend(slider, said);
    said.textContent = "Point at the figure or move the slider to read it.";
    var views = Array.prototype.map.call(figure.querySelectorAll("[data-axis]"), function (view) {
      var ends = view.dataset.axis.split(" ").map(Number), hair = document.createElement("i");
      hair.className = "hair"; hair.hidden = true; view.append(hair);
      view.addEventListener("pointermove", function (event) {
        var box = view.getBoundingClientRect();
        var part = ((event.clientX - box.left) / box.width - ends[0]) / (ends[1] - ends[0]);
        read(Math.max(0, Math.min(last, Math.round(part * last))));
      });
      return { ends: ends, hair: hair };
    });
    var shown = views.filter(function (view) { return view.hair.parentNode.offsetWidth > 0; })[0];
    if (shown) {
      slider.style.marginLeft = 100 * shown.ends[0] + "%";
      slider.style.width = 100 * (shown.ends[1] - shown.ends[0]) + "%";
    }
    function read(k) {
      slider.value = k;
      said.textContent = lines[k] || "The pass did not come here.";
      slider.setAttribute("aria-valuetext", said.textContent);
      views.forEach(function (view) {
        view.hair.hidden = false;
        view.hair.style.left = 100 * (view.ends[0] + k / last * (view.ends[1] - view.ends[0])) + "%";
      });
    }
    slider.addEventListener("input", function () { read(Number(slider.value)); });
  });
})();
