/* SPDX-License-Identifier: GPL-3.0-or-later */
/** @file drawdock.h Everything in one include. */
#ifndef DRAWDOCK_DRAWDOCK_H
#define DRAWDOCK_DRAWDOCK_H
#include <drawdock/brakes.h>
#include <drawdock/case.h>
#include <drawdock/clock.h>
#include <drawdock/hull.h>
#include <drawdock/report.h>
#include <drawdock/result.h>
#include <drawdock/rig.h>
#include <drawdock/rules.h>
#include <drawdock/run.h>
#include <drawdock/shore.h>
#include <drawdock/status.h>
#include <drawdock/study.h>
#include <drawdock/version.h>
#endif
