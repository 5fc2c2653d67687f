import settings from "../../package.json" with { type: "json" };

export const VERSION: string = settings.version;
