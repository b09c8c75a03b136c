// What ical.js reads in the calendar on standard input, as JSON on standard output.
// Environment: ICAL_JS, the module.
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";

const { default: ICAL } = await import(pathToFileURL(process.env.ICAL_JS).href);
const calendar = new ICAL.Component(ICAL.parse(readFileSync(0, "utf8")));
const events = calendar.getAllSubcomponents("vevent").map((component) => {
    const event = new ICAL.Event(component);
    const alarm = component.getFirstSubcomponent("valarm");
    return {
        uid: event.uid,
        date: event.startDate.toString(),
        end: event.endDate.toString(),
        all_day: event.startDate.isDate && event.endDate.isDate,
        stamp: component.getFirstPropertyValue("dtstamp").toString(),
        sequence: event.sequence,
        summary: event.summary,
        description: event.description,
        status: component.getFirstPropertyValue("status"),
        transparent: component.getFirstPropertyValue("transp") === "TRANSPARENT",
        categories: component.getFirstProperty("categories").getValues(),
        alarm: alarm && alarm.getFirstPropertyValue("trigger").toSeconds(),
    };
});
const older_name = calendar.getFirstPropertyValue("x-wr-calname");
const components = calendar.getAllSubcomponents().map((component) => component.name.toUpperCase());
console.log(JSON.stringify({ events, older_name, components }));
