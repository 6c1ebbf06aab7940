import { mount } from "svelte";
import App from "./App.svelte";
import { keepFocus } from "./parts/focus";
import { followLinks } from "./parts/route.svelte";
import { wearTheme } from "./parts/theme.svelte";
import "./style/page.css";
import { preferred, speak } from "./words/say.svelte";

wearTheme();
await speak(preferred());
followLinks();
keepFocus();
mount(App, { target: document.getElementById("app")! });
