"""What both engines are asked, and how long they take: shared by bill.py and libreoffice.py."""

import argparse
import json
import statistics
import time

INPUTS = ["length", "spacing", "purlins", "front_wall", "front_door", "back_wall", "back_door"]


def read():
    """The arguments, and each order's inputs in the order of INPUTS."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--orders", required=True)
    asked.add_argument("--runs", type=int, default=100)
    asked.add_argument("--workbook", required=True)
    asked = asked.parse_args()
    return asked, [[order[name] for name in INPUTS] for order in json.loads(asked.orders)]


def seconds(runs, orders, recalculate):
    """Middle of many recalculations of the first two orders in turn, so that each finds other inputs than the last."""
    took = []
    for run in range(runs):
        values = orders[run % min(2, len(orders))]
        began = time.perf_counter()
        recalculate(values)
        took.append(time.perf_counter() - began)
    return statistics.median(took)
