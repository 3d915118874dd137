/** Written by `npm run study -- --publish`. Long because it is a table. */
import type { StudyTable } from "./study-table.ts";

export const STUDY: StudyTable | null = {
  "commit": "b845c0e13aed",
  "date": "2026-11-25",
  "seeds": "100001 to 100300",
  "runs": 2,
  "all": {
    "kind": "all kinds",
    "fleets": 3900,
    "unsafe": {
      "n": 0,
      "of": 248,
      "lower": 0,
      "upper": 0.014764434812554551
    },
    "unsafeWhereMany": {
      "n": 0,
      "of": 176,
      "lower": 0,
      "upper": 0.02074141773384391
    },
    "everExtended": {
      "n": 0,
      "of": 523,
      "lower": 0,
      "upper": 0.00702849060692764
    },
    "missed": {
      "n": 1,
      "of": 656,
      "lower": 0.00003859347474093885,
      "upper": 0.008463822881110765
    },
    "missedWhereFew": {
      "n": 1,
      "of": 2,
      "lower": 0.01257911709342506,
      "upper": 0.9874208829065749
    },
    "wearBoundUnder": {
      "n": 43,
      "of": 3824,
      "lower": 0.008149518347541167,
      "upper": 0.01511703998918186
    },
    "unsafeBoundUnder": {
      "n": 6,
      "of": 1375,
      "lower": 0.0016030099755274146,
      "upper": 0.009473435276712277
    }
  },
  "rows": [
    {
      "kind": "gentle",
      "fleets": 300,
      "unsafe": {
        "n": 0,
        "of": 24,
        "lower": 0,
        "upper": 0.14247359772252563
      },
      "unsafeWhereMany": {
        "n": 0,
        "of": 19,
        "lower": 0,
        "upper": 0.17646691180696536
      },
      "everExtended": {
        "n": 0,
        "of": 38,
        "lower": 0,
        "upper": 0.09251276141587829
      },
      "missed": {
        "n": 0,
        "of": 64,
        "lower": 0,
        "upper": 0.05600908938663656
      },
      "missedWhereFew": {
        "n": 0,
        "of": 0,
        "lower": 0,
        "upper": 1
      },
      "wearBoundUnder": {
        "n": 0,
        "of": 298,
        "lower": 0,
        "upper": 0.01230248805901612
      },
      "unsafeBoundUnder": {
        "n": 0,
        "of": 111,
        "lower": 0,
        "upper": 0.032686994023947695
      }
    },
    {
      "kind": "aircraft alike 0.3",
      "fleets": 300,
      "unsafe": {
        "n": 0,
        "of": 22,
        "lower": 0,
        "upper": 0.15437251281557457
      },
      "unsafeWhereMany": {
        "n": 0,
        "of": 16,
        "lower": 0,
        "upper": 0.2059072142078227
      },
      "everExtended": {
        "n": 0,
        "of": 41,
        "lower": 0,
        "upper": 0.08604383629402843
      },
      "missed": {
        "n": 0,
        "of": 53,
        "lower": 0,
        "upper": 0.06723454630630113
      },
      "missedWhereFew": {
        "n": 0,
        "of": 0,
        "lower": 0,
        "upper": 1
      },
      "wearBoundUnder": {
        "n": 0,
        "of": 299,
        "lower": 0,
        "upper": 0.012261595907535044
      },
      "unsafeBoundUnder": {
        "n": 0,
        "of": 100,
        "lower": 0,
        "upper": 0.03621669264517641
      }
    },
    {
      "kind": "aircraft alike 0.5",
      "fleets": 300,
      "unsafe": {
        "n": 0,
        "of": 21,
        "lower": 0,
        "upper": 0.16109761521907956
      },
      "unsafeWhereMany": {
        "n": 0,
        "of": 13,
        "lower": 0,
        "upper": 0.24705263800047092
      },
      "everExtended": {
        "n": 0,
        "of": 38,
        "lower": 0,
        "upper": 0.09251276141587829
      },
      "missed": {
        "n": 0,
        "of": 50,
        "lower": 0,
        "upper": 0.07112173646419764
      },
      "missedWhereFew": {
        "n": 0,
        "of": 0,
        "lower": 0,
        "upper": 1
      },
      "wearBoundUnder": {
        "n": 0,
        "of": 300,
        "lower": 0,
        "upper": 0.01222097469429355
      },
      "unsafeBoundUnder": {
        "n": 0,
        "of": 101,
        "lower": 0,
        "upper": 0.03586462039000372
      }
    },
    {
      "kind": "accelerating wear",
      "fleets": 300,
      "unsafe": {
        "n": 0,
        "of": 5,
        "lower": 0,
        "upper": 0.5218237501049814
      },
      "unsafeWhereMany": {
        "n": 0,
        "of": 3,
        "lower": 0,
        "upper": 0.7075982261787133
      },
      "everExtended": {
        "n": 0,
        "of": 41,
        "lower": 0,
        "upper": 0.08604383629402843
      },
      "missed": {
        "n": 1,
        "of": 53,
        "lower": 0.00047758041242211324,
        "upper": 0.10070152676914611
      },
      "missedWhereFew": {
        "n": 0,
        "of": 0,
        "lower": 0,
        "upper": 1
      },
      "wearBoundUnder": {
        "n": 5,
        "of": 298,
        "lower": 0.005469816636388466,
        "upper": 0.03871899157285008
      },
      "unsafeBoundUnder": {
        "n": 1,
        "of": 111,
        "lower": 0.00022806235004637103,
        "upper": 0.04917341861152979
      }
    },
    {
      "kind": "normal rates",
      "fleets": 300,
      "unsafe": {
        "n": 0,
        "of": 16,
        "lower": 0,
        "upper": 0.2059072142078227
      },
      "unsafeWhereMany": {
        "n": 0,
        "of": 12,
        "lower": 0,
        "upper": 0.2646484693970512
      },
      "everExtended": {
        "n": 0,
        "of": 40,
        "lower": 0,
        "upper": 0.08809730287880237
      },
      "missed": {
        "n": 0,
        "of": 53,
        "lower": 0,
        "upper": 0.06723454630630113
      },
      "missedWhereFew": {
        "n": 0,
        "of": 0,
        "lower": 0,
        "upper": 1
      },
      "wearBoundUnder": {
        "n": 37,
        "of": 300,
        "lower": 0.08834419456105244,
        "upper": 0.16597270217334056
      },
      "unsafeBoundUnder": {
        "n": 0,
        "of": 117,
        "lower": 0,
        "upper": 0.031037031693111575
      }
    },
    {
      "kind": "two kinds of rates",
      "fleets": 300,
      "unsafe": {
        "n": 0,
        "of": 12,
        "lower": 0,
        "upper": 0.2646484693970512
      },
      "unsafeWhereMany": {
        "n": 0,
        "of": 7,
        "lower": 0,
        "upper": 0.40961639722500337
      },
      "everExtended": {
        "n": 0,
        "of": 38,
        "lower": 0,
        "upper": 0.09251276141587829
      },
      "missed": {
        "n": 0,
        "of": 41,
        "lower": 0,
        "upper": 0.08604383629402843
      },
      "missedWhereFew": {
        "n": 1,
        "of": 1,
        "lower": 0.025000000000000022,
        "upper": 1
      },
      "wearBoundUnder": {
        "n": 0,
        "of": 297,
        "lower": 0,
        "upper": 0.012343653868456123
      },
      "unsafeBoundUnder": {
        "n": 0,
        "of": 106,
        "lower": 0,
        "upper": 0.03420216727635029
      }
    },
    {
      "kind": "gauge drift",
      "fleets": 300,
      "unsafe": {
        "n": 0,
        "of": 22,
        "lower": 0,
        "upper": 0.15437251281557457
      },
      "unsafeWhereMany": {
        "n": 0,
        "of": 16,
        "lower": 0,
        "upper": 0.2059072142078227
      },
      "everExtended": {
        "n": 0,
        "of": 45,
        "lower": 0,
        "upper": 0.07870510040684303
      },
      "missed": {
        "n": 0,
        "of": 52,
        "lower": 0,
        "upper": 0.06848220870331956
      },
      "missedWhereFew": {
        "n": 0,
        "of": 0,
        "lower": 0,
        "upper": 1
      },
      "wearBoundUnder": {
        "n": 0,
        "of": 299,
        "lower": 0,
        "upper": 0.012261595907535044
      },
      "unsafeBoundUnder": {
        "n": 0,
        "of": 106,
        "lower": 0,
        "upper": 0.03420216727635029
      }
    },
    {
      "kind": "wrong environment",
      "fleets": 300,
      "unsafe": {
        "n": 0,
        "of": 30,
        "lower": 0,
        "upper": 0.11570330822202778
      },
      "unsafeWhereMany": {
        "n": 0,
        "of": 24,
        "lower": 0,
        "upper": 0.14247359772252563
      },
      "everExtended": {
        "n": 0,
        "of": 36,
        "lower": 0,
        "upper": 0.09739375591449193
      },
      "missed": {
        "n": 0,
        "of": 42,
        "lower": 0,
        "upper": 0.08408385494035513
      },
      "missedWhereFew": {
        "n": 0,
        "of": 0,
        "lower": 0,
        "upper": 1
      },
      "wearBoundUnder": {
        "n": 0,
        "of": 298,
        "lower": 0,
        "upper": 0.01230248805901612
      },
      "unsafeBoundUnder": {
        "n": 0,
        "of": 100,
        "lower": 0,
        "upper": 0.03621669264517641
      }
    },
    {
      "kind": "records begin mid-life",
      "fleets": 300,
      "unsafe": {
        "n": 0,
        "of": 25,
        "lower": 0,
        "upper": 0.1371851715307125
      },
      "unsafeWhereMany": {
        "n": 0,
        "of": 18,
        "lower": 0,
        "upper": 0.1853019681378522
      },
      "everExtended": {
        "n": 0,
        "of": 44,
        "lower": 0,
        "upper": 0.08041993976357587
      },
      "missed": {
        "n": 0,
        "of": 46,
        "lower": 0,
        "upper": 0.0770618270519007
      },
      "missedWhereFew": {
        "n": 0,
        "of": 0,
        "lower": 0,
        "upper": 1
      },
      "wearBoundUnder": {
        "n": 0,
        "of": 295,
        "lower": 0,
        "upper": 0.012426817523320432
      },
      "unsafeBoundUnder": {
        "n": 0,
        "of": 101,
        "lower": 0,
        "upper": 0.03586462039000372
      }
    },
    {
      "kind": "cautious mechanics",
      "fleets": 300,
      "unsafe": {
        "n": 0,
        "of": 25,
        "lower": 0,
        "upper": 0.1371851715307125
      },
      "unsafeWhereMany": {
        "n": 0,
        "of": 18,
        "lower": 0,
        "upper": 0.1853019681378522
      },
      "everExtended": {
        "n": 0,
        "of": 46,
        "lower": 0,
        "upper": 0.0770618270519007
      },
      "missed": {
        "n": 0,
        "of": 59,
        "lower": 0,
        "upper": 0.060608900950339835
      },
      "missedWhereFew": {
        "n": 0,
        "of": 0,
        "lower": 0,
        "upper": 1
      },
      "wearBoundUnder": {
        "n": 0,
        "of": 298,
        "lower": 0,
        "upper": 0.01230248805901612
      },
      "unsafeBoundUnder": {
        "n": 0,
        "of": 118,
        "lower": 0,
        "upper": 0.030778096074144553
      }
    },
    {
      "kind": "looks without numbers",
      "fleets": 300,
      "unsafe": {
        "n": 0,
        "of": 14,
        "lower": 0,
        "upper": 0.23163576165011646
      },
      "unsafeWhereMany": {
        "n": 0,
        "of": 11,
        "lower": 0,
        "upper": 0.28491415291815436
      },
      "everExtended": {
        "n": 0,
        "of": 41,
        "lower": 0,
        "upper": 0.08604383629402843
      },
      "missed": {
        "n": 0,
        "of": 44,
        "lower": 0,
        "upper": 0.08041993976357587
      },
      "missedWhereFew": {
        "n": 0,
        "of": 0,
        "lower": 0,
        "upper": 1
      },
      "wearBoundUnder": {
        "n": 0,
        "of": 242,
        "lower": 0,
        "upper": 0.015127712453415524
      },
      "unsafeBoundUnder": {
        "n": 0,
        "of": 73,
        "lower": 0,
        "upper": 0.04927706089585927
      }
    },
    {
      "kind": "heaping",
      "fleets": 300,
      "unsafe": {
        "n": 0,
        "of": 18,
        "lower": 0,
        "upper": 0.1853019681378522
      },
      "unsafeWhereMany": {
        "n": 0,
        "of": 13,
        "lower": 0,
        "upper": 0.24705263800047092
      },
      "everExtended": {
        "n": 0,
        "of": 46,
        "lower": 0,
        "upper": 0.0770618270519007
      },
      "missed": {
        "n": 0,
        "of": 56,
        "lower": 0,
        "upper": 0.06375009666236217
      },
      "missedWhereFew": {
        "n": 0,
        "of": 1,
        "lower": 0,
        "upper": 0.975
      },
      "wearBoundUnder": {
        "n": 0,
        "of": 300,
        "lower": 0,
        "upper": 0.01222097469429355
      },
      "unsafeBoundUnder": {
        "n": 0,
        "of": 116,
        "lower": 0,
        "upper": 0.03130036074328996
      }
    },
    {
      "kind": "bad batch",
      "fleets": 300,
      "unsafe": {
        "n": 0,
        "of": 14,
        "lower": 0,
        "upper": 0.23163576165011646
      },
      "unsafeWhereMany": {
        "n": 0,
        "of": 6,
        "lower": 0,
        "upper": 0.45925812643990044
      },
      "everExtended": {
        "n": 0,
        "of": 29,
        "lower": 0,
        "upper": 0.11944486906950269
      },
      "missed": {
        "n": 0,
        "of": 43,
        "lower": 0,
        "upper": 0.08221112115413848
      },
      "missedWhereFew": {
        "n": 0,
        "of": 0,
        "lower": 0,
        "upper": 1
      },
      "wearBoundUnder": {
        "n": 1,
        "of": 300,
        "lower": 0.00008438913231780051,
        "upper": 0.018431252048067885
      },
      "unsafeBoundUnder": {
        "n": 5,
        "of": 115,
        "lower": 0.01426583087512063,
        "upper": 0.09854972399265016
      }
    },
    {
      "kind": "batch after the decision",
      "fleets": 300,
      "unsafe": {
        "n": 8,
        "of": 37,
        "lower": 0.09826563583544923,
        "upper": 0.3821364917715495
      },
      "unsafeWhereMany": {
        "n": 6,
        "of": 26,
        "lower": 0.08974011088457516,
        "upper": 0.4364750969413865
      },
      "everExtended": {
        "n": 0,
        "of": 43,
        "lower": 0,
        "upper": 0.08221112115413848
      },
      "missed": {
        "n": 4,
        "of": 57,
        "lower": 0.01945042069470925,
        "upper": 0.17003981995864137
      },
      "missedWhereFew": {
        "n": 0,
        "of": 0,
        "lower": 0,
        "upper": 1
      },
      "wearBoundUnder": {
        "n": 0,
        "of": 297,
        "lower": 0,
        "upper": 0.012343653868456123
      },
      "unsafeBoundUnder": {
        "n": 35,
        "of": 124,
        "lower": 0.20512116397177843,
        "upper": 0.37009680352288354
      }
    }
  ],
  "overshoot": {
    "p95": 0.44937623357789,
    "largest": 0.9505355902460424
  },
  "power": {
    "n": 94,
    "of": 100,
    "lower": 0.8739700654191771,
    "upper": 0.9776651139286836
  },
  "powerBy": [
    {
      "from": 1,
      "to": 1.25,
      "extended": {
        "n": 21,
        "of": 126,
        "lower": 0.10623026380705945,
        "upper": 0.24341399727048368
      }
    },
    {
      "from": 1.25,
      "to": 1.5,
      "extended": {
        "n": 45,
        "of": 99,
        "lower": 0.3541366204227695,
        "upper": 0.5577461514284967
      }
    },
    {
      "from": 1.5,
      "to": 1.75,
      "extended": {
        "n": 47,
        "of": 69,
        "lower": 0.5579456085523886,
        "upper": 0.788252141100311
      }
    },
    {
      "from": 1.75,
      "to": null,
      "extended": {
        "n": 78,
        "of": 105,
        "lower": 0.6483458658337276,
        "upper": 0.8232047512701762
      }
    }
  ],
  "needless": {
    "n": 868,
    "of": 2588,
    "lower": 0.3172059480408994,
    "upper": 0.3539554334215354
  }
};
