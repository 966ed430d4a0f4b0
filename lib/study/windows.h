/* SPDX-License-Identifier: GPL-3.0-or-later */
/* When a ramp can be used: levels that will do for each rig and action, put to a tide, a clock and the sun. */
#ifndef DD_STUDY_WINDOWS_H
#define DD_STUDY_WINDOWS_H
#include "lib/shore/sun.h"
#include "lib/study/depth.h"
#include <drawdock/study.h>

enum { DD_WINDOWS_RIGS = 8, DD_USABLE_BANDS = 8, DD_WINDOWS_NAME = 32 };

/* An end of a band of levels, m on the ramp's datum; infinite: not met within the levels looked at. What binds beyond it. */
typedef struct dd_usable_end {
    double level;
    bool drowned; /* beyond it the ramp is dry or drowned as a whole */
    dd_depth_end shallow, deep;
} dd_usable_end;
typedef struct dd_usable_band {
    dd_usable_end low, high;
} dd_usable_band;

/* One scenario: a rig and an action. */
typedef struct dd_usable {
    const dd_case *scenario;
    bool launch;
    char name[DD_WINDOWS_NAME]; /* "launch", "retrieve 2" */
    double looked_low, looked_high;
    int band_count;
    dd_usable_band band[DD_USABLE_BANDS];
    dd_window *windows, *light; /* of the tide, and of those what falls into daylight */
    dd_window *sure;            /* of the windows what also holds with the water off by dd_windows.within either way; NULL: it is 0 */
    dd_window *sure_light;      /* of those what falls into daylight */
    size_t count, light_count, sure_count, sure_light_count;
} dd_usable;

/* Looks at levels from low to high, 0.25 m apart at most, and between them for where it begins or ends to work, to 2 mm. */
dd_status dd_usable_levels(const dd_case *scenario, double low, double high, dd_usable *usable, dd_error *error);
void dd_usable_end_words(const dd_usable_end *end, char *text, size_t size);

typedef struct dd_windows {
    const dd_windows_asked *asked;
    const dd_tide *tide;
    const char *datum;                   /* the ramp's, in words, which every level told is above */
    double offset;                       /* of the tide's datum above the ramp's, m */
    double within;                       /* how far off the level may be by its set-up, either way, m */
    bool sun;                            /* the place is given */
    double latitude, longitude;
    double from, to, wide_from, wide_to; /* the span asked for, and that windows are known over */
    double lowest, highest;              /* level in the wide span, on the ramp's datum: what levels are looked at for */
    long first_day;
    int day_count;
    double *day;                         /* when each local day begins; one more: when the last ends */
    dd_tide_extreme *turns;
    size_t turn_count;
    dd_window *daylight;
    size_t daylight_count;
    int rig_count;
    dd_usable rig[DD_WINDOWS_RIGS];
    char answers[300];                   /* to the times asked for, in words */
    dd_reporter *report;
} dd_windows;

/* Finds everything; levels of the rigs are found before (rig[].band). End with dd_windows_close(), also after an error. */
dd_status dd_windows_span(dd_windows *w, dd_error *error);
dd_status dd_windows_find(dd_windows *w, dd_error *error);
void dd_windows_close(dd_windows *w);
/* Finds and tells, the span and the levels being known, and takes the reporter; calendar may be NULL. */
dd_status dd_windows_report(dd_windows *w, dd_report **report, char **calendar, dd_error *error);
/* The whole question with a tide in hand; calendar may be NULL. */
dd_status dd_windows_answer(const dd_case *const *scenarios, int count, const dd_windows_asked *asked, const dd_tide *tide, double offset,
                            dd_report **report, char **calendar, dd_error *error);

/* "08:12", with " on 2 Jul" where that is not the day that begins at day_start (NaN: never). up: to the next full minute, else to the last. */
enum { DD_WINDOWS_CLOCK = 40 };
void dd_windows_clock(const dd_windows *w, double time, bool up, double day_start, char text[DD_WINDOWS_CLOCK]);
/* "2026-07-01T08:12+01:00". */
void dd_windows_stamp(const dd_windows *w, double time, bool up, char text[DD_WINDOWS_CLOCK]);
double dd_windows_level(const dd_windows *w, double time); /* on the ramp's datum */
/* Whether some of a window falls into what is asked. */
bool dd_windows_touches(const dd_windows *w, const dd_window *one);
/* The check whether there is a window at all: so many seconds `each` ("of the day"). */
void dd_windows_tell_open(dd_windows *w, const dd_usable *usable, const char *state, double seconds, const char *each);
/* Least and greatest level between two times. */
void dd_windows_between(const dd_windows *w, double from, double to, double *low, double *high);
/* Greatest less least level of a day. */
double dd_windows_range(const dd_windows *w, int day);
/* Tables of levels, windows and hours that both have. */
void dd_windows_tell_levels(dd_windows *w);
void dd_windows_tell_windows(dd_windows *w);
void dd_windows_tell_clock(dd_windows *w);
/* The windows that hold over the whole band of the set-up, beside the likely ones; nothing where the set-up is sure. */
void dd_windows_tell_sure(dd_windows *w);
/* Highest and lowest astronomical tide, by a scenario's constants, without its set-up. */
dd_status dd_windows_tell_astronomical(dd_windows *w, const dd_case *scenario, dd_error *error);
dd_status dd_windows_tell_day(dd_windows *w, dd_error *error);
dd_status dd_windows_tell_year(dd_windows *w, dd_error *error);
#endif
