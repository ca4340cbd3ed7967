using System.IO.Compression;
using CsCheck;
using EdgeGuard.Records.Recorder;

namespace EdgeGuard.Records.Tests.Recorder;

public sealed class Crc32Tests
{
    [Fact]
    public void The_check_value_of_the_nine_digits_is_the_usual_one() =>
        Assert.Equal(0xCBF43926u, Crc32.Compute("123456789"u8)); // check value as printed in catalogues of such codes; from memory

    [Fact]
    public void It_agrees_with_the_trailer_of_gzip() =>
        // RFC 1952 clause 2.3: the last 8 bytes are CRC32 and length, little-endian; written by the zlib of the framework.
        Gen.Byte.Array.Where(b => b.Length > 0).Sample(
            bytes =>
            {
                using var stream = new MemoryStream();
                using (var gzip = new GZipStream(stream, CompressionLevel.NoCompression, leaveOpen: true))
                {
                    gzip.Write(bytes);
                }

                byte[] zipped = stream.ToArray();
                Assert.Equal(BitConverter.ToUInt32(zipped, zipped.Length - 8), Crc32.Compute(bytes));
            },
            iter: 300);
}
