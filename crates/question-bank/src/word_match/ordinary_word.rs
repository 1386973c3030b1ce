//! Ordinary English words that are spelled much like a word of smell and taste and mean something
//! else.

use std::collections::BTreeSet;
use std::sync::LazyLock;

/// Whether a word is an ordinary one, so that it is neither a slip nor a form of another: "lovely"
/// is not "lively".
pub(super) fn is_ordinary(word: &str) -> bool {
    WORDS.contains(word)
}

static WORDS: LazyLock<BTreeSet<&str>> = LazyLock::new(|| ORDINARY.split_whitespace().collect());

/// Chosen by hand among the 25,000 most frequent English words (wordfreq 3, Speer 2022): those that
/// would be read as a slip of a word of the foundation bank's lexicon. Names are left out.
const ORDINARY: &str = "\
    activity adhesion aggression aggressively alcoholism alone angelic anime apparatus apply \
    arise automatic baron basal basic basin basis baton battery beacon bitten bondage booth \
    bracket brain brand brandy break breed bribe bride bring brink broad burying buster \
    butler butterfly camper canoe carry cater catholic cerebral chair charm chart chassis \
    cheating cheeky child chill chills chilly chime choosing clear clone cloning close \
    closing clothing clover coaching cocky collar combating commander compete complexion \
    compute computer cooking costing counting cracked crane creating cubes curly current \
    curvy daily daisy dedicate dedicated delicacy diary dipping draft drawn drill drinking \
    dropping duplicate dying earthly either elephant faint fling flirt float flour flowed \
    funnel fused gently glass grabs grace grade grail grams granny graph graphics grasp \
    grate grave greenwood groin gross happy healthier heater heath herds hereby hone hoops \
    hopes horny integrate intensive leases leave likely linen lovely manga manure meant \
    medal member mental messy metabolic missy mound must neural numbering pains panel panels \
    pantry partridge patrol payer peace peaked pearl perch performed pigments piper \
    plantation plated plume plump point potty preach presence presumed print prone purge \
    purse put raising recurrent refine remained reminded resign retained robber robbery \
    rouge rubbed sample shake shalt sheet sheets shirt shock shocking shone shore shout \
    silly simply skate slater slave slice sliced slope smoker snake space spaced speculate \
    spike spiked spine spirits spite spoil spoke sport stacking stage stake stall stand \
    staple stark state steam steering stick sticks stinky stocking stoked stole stoner store \
    stove strap stray stuck subtly sucking suitable sultan swear sweep sweeps tanning tarot \
    tasty theme thine thing think topical trails triangle turns vanish venerable vineyard \
    violent warning warring water waters waterway whine whisky windy winery worst worth";
