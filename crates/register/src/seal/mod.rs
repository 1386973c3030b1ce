//! The seal: a commitment to the key of an exam that is made before the sitting, shown as one root,
//! and opened later as a whole or leaf by leaf. Pure but for the randomness of the lock.

mod custodians;
mod key;
mod leaf;
mod lock;

pub use custodians::{BadShare, Share, recombine, split};
pub use key::{BadKey, Key};
pub use leaf::{DOMAIN, Leaf, LeafProof};
pub use lock::{CannotOpen, Locked, Opener, Secret, lock, new_identity, open};
