(function(){var r=document.documentElement,b=document.getElementById("light"),k="deckward-light";
function get(){try{return localStorage.getItem(k)}catch(e){return null}}
function put(v){try{localStorage.setItem(k,v)}catch(e){}}
var v=get();if(v)r.dataset.light=v;b.hidden=false;
b.addEventListener("click",function(){var dark=r.dataset.light?r.dataset.light==="night":matchMedia("(prefers-color-scheme: dark)").matches;
r.dataset.light=dark?"day":"night";put(r.dataset.light)});
})();
