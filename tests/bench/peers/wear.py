"""The peer in Python: the same exports read, slopes of components, environments compared, a Weibull fit a group with
95 % bounds, six charts, one page. What an analyst would write with pandas, NumPy, SciPy and matplotlib: the C reader,
words and dates turned by their few categories and not row by row, sums by numpy.bincount.

    /usr/bin/python3 wear.py EXPORTS OUT
"""

import html
import sys
from pathlib import Path

import matplotlib

matplotlib.use("Agg")
import matplotlib.pyplot as plt
import numpy as np
import pandas as pd
from scipy import stats

from weibull import fit_weibull

EXPORTS, OUT = Path(sys.argv[1]), Path(sys.argv[2])
OUT.mkdir(parents=True, exist_ok=True)

ENVIRONMENTS = {
    "Saltpan North": "sandy", "Saltpan South": "sandy", "Coast": "coastal", "Highland": "highland", "Valley": "temperate",
}
STANDARDS = {"P": "plain", "S": "shielded"}
PART_OF = {"GB-100-1": "grip bearing", "GB-100-3": "grip bearing", "LB-220-1": "link bearing"}
LIMIT_MM = {"grip bearing": 0.50, "link bearing": 0.30}
Z = stats.norm.ppf(0.975)


# ---- Reading ---------------------------------------------------------------------------------------------------------
def read_kind(kind, sep, decimal, text, numbers, encoding="utf-8"):
    files = sorted(EXPORTS.glob(f"{kind}-*.csv"))
    if not files:
        raise SystemExit(f"no {kind} export in {EXPORTS}")
    dtypes = {**{name: "category" for name in text}, **{name: "float64" for name in numbers}}
    frames = [
        pd.read_csv(
            file, sep=sep, decimal=decimal, encoding=encoding, engine="c", dtype=dtypes, usecols=list(dtypes),
            keep_default_na=False, na_values={name: [""] for name in numbers},
        )
        for file in files
    ]
    if len(frames) == 1:
        return frames[0]
    for name in text:  # files have categories of their own
        united = pd.api.types.union_categoricals([frame[name] for frame in frames]).categories
        for frame in frames:
            frame[name] = frame[name].cat.set_categories(united)
    return pd.concat(frames, ignore_index=True)


def by_category(column, change):
    return np.asarray(change(column.cat.categories))[column.cat.codes]


def recode(column, words):
    """Codes and names of what the recorded words mean."""
    names = sorted(set(words.values()))
    code = np.array([names.index(words[word]) for word in column.cat.categories])
    return code[column.cat.codes], names


def as_numbers(words):
    return pd.to_numeric(words.astype(str).str.replace(",", ".", regex=False), errors="coerce")


wear = read_kind(
    "wear", ";", ",", ["Serial", "Inspected", "Wear [mm]", "Tail", "Part no", "Arm", "Base", "Ring"], ["Hours"], "cp1252"
)
gaps = read_kind("gaps", ",", ".", ["Tail", "Arm", "Date", "State", "Ring"], ["Hours", "Gap"])
removals = read_kind(
    "removals", ";", ".",
    ["Serial", "Part no", "Removed", "Reason", "Found", "Shop finding", "Tail", "Arm", "Base", "Ring"], ["Hours"],
)
installed = read_kind(
    "installed", ";", ",", ["Serial", "Part no", "Installed", "Tail", "Arm", "Base", "Ring"],
    ["Hours at installation", "Hours now"], "cp1252",
)
flying = read_kind("flying", ",", ".", ["Month", "Tail", "Base"], ["Hours"])

part, part_names = recode(wear["Part no"], PART_OF)
environment, environment_names = recode(wear["Base"], ENVIRONMENTS)
standard, standard_names = recode(wear["Ring"], STANDARDS)
day = by_category(wear["Inspected"], lambda c: pd.to_datetime(c, format="%d.%m.%Y").values)
hours = wear["Hours"].to_numpy()
wear_mm = by_category(wear["Wear [mm]"], as_numbers)
limit = np.array([LIMIT_MM[name] for name in part_names])[part]
with np.errstate(invalid="ignore"):
    over = (wear_mm >= limit) | by_category(wear["Wear [mm]"], lambda c: c == "US")
serials = len(wear["Serial"].cat.categories)
keys, component = np.unique(part.astype(np.int64) * serials + wear["Serial"].cat.codes, return_inverse=True)
group = (part * len(environment_names) + environment) * len(standard_names) + standard
group_count = len(part_names) * len(environment_names) * len(standard_names)


def group_name(number):
    rest, standard_ = divmod(number, len(standard_names))
    part_, environment_ = divmod(rest, len(environment_names))
    return part_names[part_], environment_names[environment_], standard_names[standard_]


# ---- Slopes of components, environments compared ---------------------------------------------------------------------
read = ~np.isnan(wear_mm)
h, w = hours[read], wear_mm[read]
cells, cell = np.unique(component[read].astype(np.int64) * group_count + group[read], return_inverse=True)
n, sum_h, sum_w, sum_h2, sum_hw = (np.bincount(cell, weights=x) for x in (np.ones_like(h), h, w, h * h, h * w))
with np.errstate(divide="ignore", invalid="ignore"):
    rate = 1000 * (sum_hw - sum_h * sum_w / n) / (sum_h2 - sum_h**2 / n)
    steady = (n >= 3) & np.isfinite(rate) & (rate > 0)
cell_group = cells % group_count
cell_part, cell_rest = np.divmod(cell_group, len(environment_names) * len(standard_names))
cell_environment, cell_standard = np.divmod(cell_rest, len(standard_names))

comparisons = []
for number, name in enumerate(part_names):
    mine = steady & (cell_part == number)
    terms, columns = ["(Intercept)"], [np.ones(mine.sum())]
    for i, word in list(enumerate(environment_names))[1:]:
        terms.append(word)
        columns.append((cell_environment[mine] == i).astype(float))
    for i, word in list(enumerate(standard_names))[1:]:
        terms.append(word)
        columns.append((cell_standard[mine] == i).astype(float))
    x, y = np.column_stack(columns), np.log(rate[mine])
    beta, _, rank, _ = np.linalg.lstsq(x, y, rcond=None)
    freedom = len(y) - rank
    variance = ((y - x @ beta) ** 2).sum() / freedom
    error = np.sqrt(np.diag(np.linalg.pinv(x.T @ x)) * variance)
    t = stats.t.ppf(0.975, freedom)
    for term, b, e in zip(terms, beta, error):
        comparisons.append((name, term, np.exp(b), np.exp(b - t * e), np.exp(b + t * e)))
comparisons = pd.DataFrame(comparisons, columns=["part", "term", "ratio", "lower", "upper"])

# ---- Lives: over the limit somewhere since the last good look --------------------------------------------------------
count = len(keys)
order = np.lexsort((hours, component))
found = np.full(count, np.inf)
np.minimum.at(found, component[over], hours[over])
good = hours < found[component]
lower = np.zeros(count)
np.maximum.at(lower, component[good], hours[good])
last_group = np.zeros(count, dtype=np.int64)
last_group[component[order]] = group[order]  # the latest look of each component is written last
usable = (lower > 0) | np.isfinite(found)
weibulls, lives_of = [], {}
for number in range(group_count):
    mine = usable & (last_group == number)
    if np.isfinite(found[mine]).sum() < 3:
        continue
    lives_of[number] = lower[mine], found[mine]
    weibulls.append((*group_name(number), int(mine.sum()), *fit_weibull(lower[mine], found[mine]).summary(Z)))
weibulls = pd.DataFrame(
    weibulls,
    columns=[
        "part", "environment", "standard", "lives", "events", "shape", "shape lower", "shape upper", "scale", "scale lower",
        "scale upper", "ten percent", "ten lower", "ten upper",
    ],
)

# ---- Removals, gaps, roster ------------------------------------------------------------------------------------------
month = by_category(removals["Removed"], lambda c: pd.to_datetime(c, format="%d.%m.%Y").strftime("%Y-%m"))
flown = flying.groupby("Month", observed=True)["Hours"].sum()
flown.index = flown.index.astype(str)
removed = removals.groupby([pd.Series(month, name="month"), "Reason"], observed=True).size().reset_index(name="removals")
removed["hours"] = removed["month"].map(flown).astype(float)
removed["rate"] = 1000 * removed["removals"] / removed["hours"]
removed["lower"] = 1000 * stats.chi2.ppf(0.025, 2 * removed["removals"]) / 2 / removed["hours"]
removed["upper"] = 1000 * stats.chi2.ppf(0.975, 2 * removed["removals"] + 2) / 2 / removed["hours"]
quarter = by_category(gaps["Date"], lambda c: pd.to_datetime(c).to_period("Q").astype(str))
gap_medians = gaps.groupby([pd.Series(quarter, name="quarter"), "Ring", "State"], observed=True)["Gap"].median().unstack([1, 2])
roster_part, _ = recode(installed["Part no"], PART_OF)
roster = installed.groupby([pd.Series(roster_part, name="part"), "Base"], observed=True)["Hours now"].agg(["size", "max"])


# ---- Six charts and a page -------------------------------------------------------------------------------------------
def kaplan_meier(lower_hours, found_hours):
    event = np.isfinite(found_hours)
    times, where = np.unique(np.where(event, found_hours, lower_hours), return_inverse=True)
    deaths, all_ = np.bincount(where, weights=event), np.bincount(where)
    at_risk = all_[::-1].cumsum()[::-1]
    keep = np.unique(np.linspace(0, len(times) - 1, min(500, len(times))).round().astype(int))
    return times[keep], np.cumprod(1 - deaths / at_risk)[keep]


charts = []


def chart(title, rows=1, columns=1):
    figure, axes = plt.subplots(rows, columns, figsize=(10, 6), squeeze=False, layout="constrained")
    figure.suptitle(title)
    charts.append((title, figure))
    return axes


axes = chart("Wear against hours", len(part_names), len(environment_names))
read_part, read_environment = part[read], environment[read]
for i in range(len(part_names)):
    for j in range(len(environment_names)):
        mine = (read_part == i) & (read_environment == j)
        if mine.any():
            axes[i, j].hist2d(h[mine], w[mine], bins=60, cmin=1)
        axes[i, j].set_title(f"{part_names[i]}, {environment_names[j]}", fontsize=8)
axes = chart("Rates of components", len(part_names), len(environment_names))
for i in range(len(part_names)):
    for j in range(len(environment_names)):
        for k in range(len(standard_names)):
            mine = steady & (cell_part == i) & (cell_environment == j) & (cell_standard == k)
            if mine.any():
                axes[i, j].hist(np.log10(rate[mine]), bins=60, alpha=0.6)
        axes[i, j].set_title(f"{part_names[i]}, {environment_names[j]}", fontsize=8)
axes = chart("Rate ratios with 95 % bounds", 1, len(part_names))
for i, name in enumerate(part_names):
    rows = comparisons[(comparisons["part"] == name) & (comparisons["term"] != "(Intercept)")]
    spread = [rows["ratio"] - rows["lower"], rows["upper"] - rows["ratio"]]
    axes[0, i].errorbar(rows["ratio"], rows["term"], xerr=spread, fmt="o")
    axes[0, i].set_title(name)
axes = chart("Lives: Weibull and Kaplan-Meier", len(part_names), len(environment_names))
for row in weibulls.itertuples():
    axis = axes[part_names.index(row.part), environment_names.index(row.environment)]
    at = np.linspace(0, 1.5 * row.scale, 200)
    axis.plot(at, np.exp(-((at / row.scale) ** row.shape)))
for number, (lower_hours, found_hours) in lives_of.items():
    name, place, _ = group_name(number)
    axes[part_names.index(name), environment_names.index(place)].step(*kaplan_meier(lower_hours, found_hours), lw=0.4)
axis = chart("Removals per 1000 flight hours")[0, 0]
for reason, rows in removed.groupby("Reason", observed=True):
    axis.errorbar(rows["month"], rows["rate"], yerr=[rows["rate"] - rows["lower"], rows["upper"] - rows["rate"]], label=reason)
axis.legend()
axis = chart("Seal gaps by quarter")[0, 0]
gap_medians.plot(ax=axis)

page = ["<!doctype html><meta charset='utf-8'><title>Wear</title>"]
page += [table.to_html(float_format="%.5g") for table in (weibulls, comparisons, roster)]
for i, (title, figure) in enumerate(charts, 1):
    figure.savefig(OUT / f"chart-{i}.png", dpi=100)
    page.append(f'<h2>{html.escape(title)}</h2><img src="chart-{i}.png" alt="{html.escape(title)}">')
(OUT / "page.html").write_text("\n".join(page), encoding="utf-8")
print(len(wear), "looks,", int(read.sum()), "readings,", count, "components,", int(usable.sum()), "lives,", len(weibulls), "fits")
