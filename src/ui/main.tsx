import { render } from "preact";
import { App } from "./app.tsx";
import { startKeeping } from "./keeping/autosave.ts";
import { keepOffline } from "./offline/new-version.tsx";
import { say } from "./shell/notice.tsx";
import "./style.css";

const trouble = await startKeeping();
if (trouble) say(trouble);
render(<App />, document.getElementById("page")!);
void keepOffline();
